#include "mentions/dates.h"

#include <catch2/catch.hpp>
#include <string>
#include <vector>

using namespace tailproof;

namespace {

const Grammars& grammars(const std::string& language = "en") {
  static Complaints complaints;
  static const Grammars english =
      Grammars::read({}, {TAILPROOF_TOP "/grammars/en"}, "en", complaints);
  static const Grammars german =
      Grammars::read({}, {TAILPROOF_TOP "/grammars/de"}, "de", complaints);
  for (const Complaint& complaint : complaints)
    FAIL(complaint.file << ":" << complaint.line << ": " << complaint.message);
  return language == "de" ? german : english;
}

std::vector<DateMention> found_in(const std::string& text, const LedgerSettings& settings = {},
                                  const std::string& language = "en") {
  const Grammars& all = grammars(language);
  return find_dates(text, tokenize(text, all), all, settings);
}

// Every mention as "text = value", "?" where other words must tell, "!" where it is impossible.
std::string shown(const std::string& text, const LedgerSettings& settings = {},
                  const std::string& language = "en") {
  std::string out;
  for (const DateMention& mention : found_in(text, settings, language)) {
    if (!out.empty()) out += "; ";
    out += text.substr(mention.begin, mention.end - mention.begin) + " = ";
    out += mention.impossible ? "!" : mention.is_complete ? mention.date.text() : "?";
  }
  return out;
}

struct Row {
  const char* text;
  const char* expected;
};

void check(const std::vector<Row>& rows, const LedgerSettings& settings = {},
           const std::string& language = "en") {
  for (const Row& row : rows) {
    INFO(row.text);
    CHECK(shown(row.text, settings, language) == row.expected);
  }
}

}  // namespace

TEST_CASE("a full date in every order and spelling") {
  check({
      {"seen on 9 July 1942 at rest", "9 July 1942 = 1942-07-09"},
      {"seen on 9th July, 1942", "9th July, 1942 = 1942-07-09"},
      {"seen on the 9th of July 1942", "the 9th of July 1942 = 1942-07-09"},
      {"seen on July 9, 1942", "July 9, 1942 = 1942-07-09"},
      {"seen on July 9th 1942", "July 9th 1942 = 1942-07-09"},
      {"seen on July 9,1942", "July 9,1942 = 1942-07-09"},
      {"9 Jul 42", "9 Jul 42 = 1942-07-09"},
      {"9Jul42", "9Jul42 = 1942-07-09"},
      {"9-Jul-42", "9-Jul-42 = 1942-07-09"},
      {"9 Jul. '42", "9 Jul. '42 = 1942-07-09"},
      {"9.7.42", "9.7.42 = 1942-07-09"},
      {"9-7-42", "9-7-42 = 1942-07-09"},
      {"9/7/1942", "9/7/1942 = 1942-07-09"},
      {"9.VII.42", "9.VII.42 = 1942-07-09"},
      {"1942-07-09", "1942-07-09 = 1942-07-09"},
      {"1942, July 9", "1942, July 9 = 1942-07-09"},
      {"090815Z JUL 42", "090815Z JUL 42 = 1942-07-09"},
      {"the ninth of July 1942", "the ninth of July 1942 = 1942-07-09"},
      {"July the ninth, 1942", "July the ninth, 1942 = 1942-07-09"},
      {"the first day of July 1942", "the first day of July 1942 = 1942-07-01"},
      {"the last day of July 1942", "the last day of July 1942 = 1942-07-31"},
      {"the twenty-third of July 1942", "the twenty-third of July 1942 = 1942-07-23"},
      {"HARBOUR, 9-7-42. CREWS AT REST IN JULY 1942", "9-7-42 = 1942-07-09; JULY 1942 = 1942-07"},
      {"Christmas 1942", "Christmas 1942 = 1942-12-25"},
      {"at Easter 1942", "Easter 1942 = 1942-04-05"},
      {"on Easter Monday 1943", "Easter Monday 1943 = 1943-04-26"},
      {"on Good Friday, 1944", "Good Friday, 1944 = 1944-04-07"},
      {"on New Year's Eve 1942", "New Year's Eve 1942 = 1942-12-31"},
  });
}

TEST_CASE("years before months, quarters, years in words, feasts") {
  check({
      {"seen, 1942 July, at rest", "1942 July = 1942-07"},
      {"seen, 1942 July - 1943 March", "1942 July - 1943 March = 1942-07/1943-03"},
      {"1942 July 4-10", "1942 July 4-10 = 1942-07-04/1942-07-10"},
      {"in 1942 March flew it", "1942 = 1942"},
      {"in 1942 May Hobb was born", "1942 = 1942"},
      {"Q3 1942", "Q3 1942 = 1942-07/1942-09"},
      {"the 1st quarter of 1942", "the 1st quarter of 1942 = 1942-01/1942-03"},
      {"1941 - 42", "1941 - 42 = 1941/1942"},
      {"in nineteen forty-two it flew", "nineteen forty-two = 1942"},
      {"nineteen forty-pounders", ""},
      {"in nineteen forty-pound crates", ""},
      {"in the nineteen-forties", "the nineteen-forties = 194X"},
      {"the 19th c. wall", "the 19th c. = 18XX"},
      {"c1940s", "c1940s = 194X~"},
      {"the summers of 1942", "the summers of 1942 = 1942-22"},
      {"on May Day 1942", "May Day 1942 = 1942-05-01"},
      {"at Michaelmas 1942", "Michaelmas 1942 = 1942-09-29"},
      {"on Whit Sunday", "Whit Sunday = ?"},
      {"1942 to unknown", "1942 to unknown = 1942/.."},
      {"unknown to 1942", "1942 = ../1942"},
      {"<1942", "1942 = ../1941"},
  });
}

TEST_CASE("a season or feast before a noun is a date where the noun happens") {
  check({
      {"their summer offensive failed", "summer = ?"},
      {"their summer camp was wet", ""},
      {"the Lady Day rents", ""},
      {"It met every spring and each May.", ""},
      {"It met every spring until 1931.", "1931 = ../1931"},
      {"Winter was worse.", "Winter = ?"},
      {"In May, the third never came.", "May = ?"},
      {"on the 11th another fell", "the 11th = ?"},
  });
}

TEST_CASE("months, seasons, years, decades, centuries") {
  check({
      {"in July 1942", "July 1942 = 1942-07"},
      {"July, 1942", "July, 1942 = 1942-07"},
      {"in the July of 1942", "the July of 1942 = 1942-07"},
      {"Jul. 42", "Jul. 42 = 1942-07"},
      {"7/42", "7/42 = 1942-07"},
      {"spring 1942", "spring 1942 = 1942-21"},
      {"in the summer of 1942", "the summer of 1942 = 1942-22"},
      {"in the summer of '42", "the summer of '42 = 1942-22"},
      {"Fall 1942", "Fall 1942 = 1942-23"},
      {"winter 1942/43", "winter 1942/43 = 1942-24"},
      {"the winter of 1942-43", "the winter of 1942-43 = 1942-24"},
      {"in 1942", "1942 = 1942"},
      {"in '42", "'42 = 1942"},
      {"in l942", "l942 = 1942"},
      {"in 19 42", "19 42 = 1942"},
      {"1942-43", "1942-43 = 1942/1943"},
      {"1942/43", "1942/43 = 1942/1943"},
      {"1942/1943", "1942/1943 = 1942/1943"},
      {"in 1942-3", "1942-3 = 1942/1943"},
      {"1940-41", "1940-41 = 1940/1941"},
      {"in the 1940s", "the 1940s = 194X"},
      {"in the forties", "the forties = 194X"},
      {"the early forties", "the early forties = 1940/1943"},
      {"the mid-1940s", "the mid-1940s = 1944/1946"},
      {"the late '40s", "the late '40s = 1947/1949"},
      {"the 19th century", "the 19th century = 18XX"},
      {"the nineteenth century", "the nineteenth century = 18XX"},
  });
}

TEST_CASE("a season over the New Year belongs to the hemisphere that has it there") {
  LedgerSettings south;
  south.hemisphere = Hemisphere::kSouth;
  CHECK(shown("winter 1942", south) == "winter 1942 = 1942-24");
  CHECK(found_in("winter 1942", south)[0].date.days().first() == to_day({1942, 6, 1}));
  CHECK(shown("winter 1942/43", south) == "winter 1942/43 = 1942-28");
  CHECK(shown("the summer of 1942-43", south) == "the summer of 1942-43 = 1942-22");
  CHECK(shown("the summer of 1942-43") == "the summer of 1942-43 = 1942-30");
}

TEST_CASE("half of a month behind it") {
  check({{"in May 1942, second half", "May 1942, second half = 1942-05-16/1942-05-31"},
         {"May 1942, the first half", "May 1942, the first half = 1942-05-01/1942-05-15"}});
}

TEST_CASE("a season of the hemisphere that is named") {
  LedgerSettings south;
  south.hemisphere = Hemisphere::kSouth;
  for (const LedgerSettings& settings : {LedgerSettings(), south}) {
    check({{"in the southern spring of 1942", "the southern spring of 1942 = 1942-29"},
           {"in the northern autumn of 1942", "the northern autumn of 1942 = 1942-27"}},
          settings);
  }
  CHECK(found_in("in the southern spring of 1942")[0].date.days().first() == to_day({1942, 9, 1}));
}

TEST_CASE("parts of a month, a year, a decade are thirds and the like") {
  check({
      {"early July 1942", "early July 1942 = 1942-07-01/1942-07-10"},
      {"in mid-July 1942", "mid-July 1942 = 1942-07-11/1942-07-20"},
      {"late in July 1942", "late in July 1942 = 1942-07-21/1942-07-31"},
      {"the beginning of July 1942", "the beginning of July 1942 = 1942-07-01/1942-07-10"},
      {"the end of February 1944", "the end of February 1944 = 1944-02-21/1944-02-29"},
      {"early 1942", "early 1942 = 1942-01/1942-04"},
      {"mid 1942", "mid 1942 = 1942-05/1942-08"},
      {"late 1942", "late 1942 = 1942-09/1942-12"},
      {"late 42", "late 42 = 1942-09/1942-12"},
      {"mid- to late 1942", "mid- to late 1942 = 1942-05/1942-12"},
      {"mid-to-late 1942", "mid-to-late 1942 = 1942-05/1942-12"},
      {"the first week of July 1942", "the first week of July 1942 = 1942-07-01/1942-07-07"},
      {"the last week of July 1942", "the last week of July 1942 = 1942-07-25/1942-07-31"},
      {"the first half of July 1942", "the first half of July 1942 = 1942-07-01/1942-07-15"},
      {"the second half of 1942", "the second half of 1942 = 1942-07/1942-12"},
      {"the last quarter of 1942", "the last quarter of 1942 = 1942-10/1942-12"},
      {"the first three months of 1942", "the first three months of 1942 = 1942-01/1942-03"},
      {"the last ten days of July 1942", "the last ten days of July 1942 = 1942-07-22/1942-07-31"},
      {"the last third of July 1942", "the last third of July 1942 = 1942-07-21/1942-07-31"},
      {"the third of July 1942", "the third of July 1942 = 1942-07-03"},
      {"the first fortnight of July 1942",
       "the first fortnight of July 1942 = 1942-07-01/1942-07-14"},
      {"the New Year of 1942", "the New Year of 1942 = 1941-12/1942-01"},
      {"the turn of 1942", "the turn of 1942 = 1941-12/1942-01"},
  });
}

TEST_CASE("hedges widen, and are told") {
  check({
      {"about July 1942", "about July 1942 = 1942-07~"},
      {"c. 1942", "c. 1942 = 1942~"},
      {"c1942", "c1942 = 1942~"},
      {"circa 9 July 1942", "circa 9 July 1942 = 1942-07-09~"},
      {"1942, or thereabouts", "1942, or thereabouts = 1942~"},
      {"1942-ish", "1942-ish = 1942~"},
      {"about early July 1942", "about early July 1942 = 1942-07-01~/1942-07-10~"},
      {"1942?", "1942? = 1942?"},
      {"July 1942 (?)", "July 1942 (?) = 1942-07?"},
      {"about 1942?", "about 1942? = 1942%"},
      {"probably July 1942", "July 1942 = 1942-07"},
  });
  CHECK(found_in("about July 1942")[0].hedged);
  CHECK(found_in("probably in July 1942")[0].hedged);
  CHECK(found_in("July 1942?")[0].hedged);
  CHECK_FALSE(found_in("in July 1942")[0].hedged);
}

TEST_CASE("bounds") {
  check({
      {"by July 1942", "July 1942 = ../1942-07"},
      {"no later than July 1942", "July 1942 = ../1942-07"},
      {"until the end of July 1942", "the end of July 1942 = ../1942-07-31"},
      {"before the end of July 1942", "the end of July 1942 = ../1942-07-31"},
      {"before 9 July 1942", "9 July 1942 = ../1942-07-08"},
      {"before July 1942", "July 1942 = ../1942-06"},
      {"before 1942", "1942 = ../1941"},
      {"on or before 9 July 1942", "9 July 1942 = ../1942-07-09"},
      {"on or after 9 July 1942", "9 July 1942 = 1942-07-09/.."},
      {"pre-1942", "1942 = ../1941"},
      {"after 9 July 1942", "9 July 1942 = 1942-07-10/.."},
      {"after 31 December 1942", "31 December 1942 = 1943-01-01/.."},
      {"after July 1942", "July 1942 = 1942-08/.."},
      {"since July 1942", "July 1942 = 1942-07/.."},
      {"from July 1942 on", "July 1942 on = 1942-07/.."},
      {"not until July 1942", "July 1942 = 1942-07/.."},
      {"not before July 1942", "July 1942 = 1942-07/.."},
      {"July 1942 at the earliest", "July 1942 at the earliest = 1942-07/.."},
      {"July 1942 or earlier", "July 1942 or earlier = ../1942-07"},
      {"by about July 1942", "about July 1942 = ../1942-07~"},
      {"a photograph from July 1942", "July 1942 = 1942-07"},
  });
  const DateMention mention = found_in("kept by July 1942")[0];
  CHECK(mention.bound == DateBound::kBy);
  CHECK(mention.begin == 8);
  CHECK(mention.bound_begin == 5);
}

TEST_CASE("two dates joined are one mention") {
  check({
      {"from July to August 1942", "July to August 1942 = 1942-07/1942-08"},
      {"July-August 1942", "July-August 1942 = 1942-07/1942-08"},
      {"Jul.-Aug. 1942", "Jul.-Aug. 1942 = 1942-07/1942-08"},
      {"between 9 July and 3 August 1942", "9 July and 3 August 1942 = 1942-07-09/1942-08-03"},
      {"between July 9 and 16, 1942", "July 9 and 16, 1942 = 1942-07-09/1942-07-16"},
      {"9 July 1942 to 3 August", "9 July 1942 to 3 August = 1942-07-09/1942-08-03"},
      {"December to January 1943", "December to January 1943 = 1942-12/1943-01"},
      {"December 1942 to January", "December 1942 to January = 1942-12/1943-01"},
      {"1942 to 1944", "1942 to 1944 = 1942/1944"},
      {"from about July 1942 until early 1943",
       "about July 1942 until early 1943 = 1942-07~/1943-04"},
      {"July/August 1942", "July/August 1942 = [1942-07,1942-08]"},
      {"July or August 1942", "July or August 1942 = [1942-07,1942-08]"},
      {"late 1942 or early 1943", "late 1942 or early 1943 = [1942-09..1942-12,1943-01..1943-04]"},
      {"the night of 9/10 July 1942", "the night of 9/10 July 1942 = 1942-07-09/1942-07-10"},
      {"9/ 10 July 1942", "9/ 10 July 1942 = 1942-07-09/1942-07-10"},
      {"9/10.7.42", "9/10.7.42 = 1942-07-09/1942-07-10"},
      {"9 and 11 July 1942", "9 and 11 July 1942 = {1942-07-09,1942-07-11}"},
      {"July 9-11, 1942", "July 9-11, 1942 = 1942-07-09/1942-07-11"},
      {"in July and August 1942", "July = 1942-07; August 1942 = 1942-08"},
      {"2.7.41 to 9 Sqn 4.43; struck off 30.9.44",
       "2.7.41 = 1941-07-02; 4.43 = 1943-04; 30.9.44 = 1944-09-30"},
  });
  CHECK(found_in("between 9 July and 3 August 1942")[0].is_somewhere_within);
  CHECK_FALSE(found_in("9 July to 3 August 1942")[0].is_somewhere_within);
  const DateMention pair = found_in("9-11 July 1942")[0];
  CHECK(pair.first_end == 1);
  CHECK(pair.second_begin == 2);
}

TEST_CASE("a range runs backwards where a year would otherwise be all but used up") {
  check({
      {"from 4 October to 19 September 1942", "4 October to 19 September 1942 = !"},
      {"from 28 December to 3 January 1943",
       "28 December to 3 January 1943 = 1942-12-28/1943-01-03"},
      {"from 20 August to 2 March 1943", "20 August to 2 March 1943 = 1942-08-20/1943-03-02"},
      {"from October to September 1942", "October to September 1942 = 1941-10/1942-09"},
  });
}

TEST_CASE("the order of a numeric date is the ledger's, unless only another is a date") {
  LedgerSettings settings;
  settings.date_order = DateOrder::kMonthDayYear;
  check({{"4/6/43", "4/6/43 = 1943-04-06"}, {"14/6/43", "14/6/43 = 1943-06-14"}}, settings);
  check({{"4/6/43", "4/6/43 = 1943-06-04"}, {"3/22/42", "3/22/42 = 1942-03-22"}});
  settings.date_order = DateOrder::kYearMonthDay;
  check({{"43-06-14", "43-06-14 = 1943-06-14"}, {"14/6/43", "14/6/43 = 1943-06-14"}}, settings);
  settings = {};
  settings.century = 1800;
  check({{"4/6/43", "4/6/43 = 1843-06-04"}, {"summer of '43", "summer of '43 = 1843-22"}},
        settings);
}

TEST_CASE("a weekday beside a date is kept with its place") {
  const std::string text = "on Thursday, 9 July 1942";
  const DateMention mention = found_in(text)[0];
  CHECK(mention.weekday == 4);
  CHECK(text.substr(mention.weekday_begin, mention.weekday_end - mention.weekday_begin) ==
        "Thursday");
  CHECK(found_in("Thu. July 9, 1942")[0].weekday == 4);
  CHECK(found_in("9 July 1942 (a Thursday)")[0].weekday == 4);
  CHECK(found_in("9 July 1942")[0].weekday == -1);
}

TEST_CASE("what the calendar has not is kept and said") {
  const DateMention june = found_in("on 31 June 1942")[0];
  CHECK(june.impossible);
  CHECK(june.what == "there is no day 31 in 1942-06, which has 30 days");
  CHECK(found_in("June 31, 1942")[0].impossible);
  CHECK(found_in("29 February 1942")[0].impossible);
  CHECK_FALSE(found_in("29 February 1944")[0].impossible);
  const DateMention range = found_in("from 9 July 1942 to 3 June 1942")[0];
  CHECK(range.impossible);
  CHECK(range.what == "the range runs backwards");
  CHECK(found_in("20-14 July 1942")[0].impossible);
}

TEST_CASE("words that lean on others are left open") {
  check({
      {"on 9 July she left", "9 July = ?"},
      {"lost in July.", "July = ?"},
      {"on the 9th she left", "the 9th = ?"},
      {"that July", "that July = ?"},
      {"in the July of that year", "the July of that year = ?"},
      {"the following day", "the following day = ?"},
      {"next morning she left", "next morning = ?"},
      {"the same afternoon", "the same afternoon = ?"},
      {"later that month", "later that month = ?"},
      {"the end of the month", "the end of the month = ?"},
      {"later in the year", "later in the year = ?"},
      {"two days later", "two days later = ?"},
      {"a fortnight before,", "a fortnight before = ?"},
      {"some three weeks after.", "three weeks after = ?"},
      {"the following Monday", "the following Monday = ?"},
      {"the day after", "the day after = ?"},
      {"the previous summer", "the previous summer = ?"},
      {"less than four weeks later", "less than four weeks later = ?"},
      {"just over a year earlier", "just over a year earlier = ?"},
      {"early in the new year they sailed", "early in the new year = ?"},
      {"by the year's end", "the year's end = ?"},
      {"before the year was out", "the year was out = ?"},
      {"the harsh winter", "the harsh winter = ?"},
      {"in the depths of winter", "the depths of winter = ?"},
      {"he spent the spring and summer training", "the spring = ?; summer = ?"},
  });
  CHECK(found_in("by next summer")[0].is_as_spoken);
  CHECK_FALSE(found_in("by the next summer")[0].is_as_spoken);
  CHECK(found_in("the day following saw rain")[0].ends_its_phrase);
  CHECK(found_in("two days after the raid")[0].leans_on_event);
  CHECK(found_in("the day before the raid")[0].leans_on_event);
  CHECK_FALSE(found_in("two days after.")[0].leans_on_event);
  CHECK_FALSE(found_in("two days later it sank")[0].leans_on_event);
  CHECK_FALSE(found_in("the day following it sank")[0].leans_on_event);
  for (const char* text : {"The day after, it sank", "three weeks before", "a week before; it",
                           "the year after and the next", "the day before had been wet"}) {
    CAPTURE(text);
    CHECK(found_in(text)[0].ends_its_phrase);
    CHECK_FALSE(found_in(text)[0].leans_on_event);
  }
}

TEST_CASE("an offset beside its date is complete") {
  check({
      {"two days after 9 July 1942", "two days after 9 July 1942 = 1942-07-11"},
      {"the day before 1 July 1942", "the day before 1 July 1942 = 1942-06-30"},
      {"a fortnight before 9 July 1942", "a fortnight before 9 July 1942 = 1942-06-25"},
      {"a month after 31 January 1942", "a month after 31 January 1942 = 1942-02"},
      {"a month to the day after 31 January 1942",
       "a month to the day after 31 January 1942 = 1942-02-28"},
      {"two years before July 1942", "two years before July 1942 = 1940"},
      {"half a year after 9 July 1942", "half a year after 9 July 1942 = 1943-01"},
  });
}

TEST_CASE("what only looks like a date is none") {
  for (const char* text : {"it may be so",
                           "the crew on the march",
                           "Sgt March flew",
                           "Flt Sgt May and Miss June",
                           "Wing Commander May landed",
                           "at Port August",
                           "June Hollis waved",
                           "flown by May Hollis",
                           "Sunday Bay",
                           "in the fall of the city",
                           "a spring-loaded door",
                           "Autumn smiled",
                           "1,134 negatives",
                           "some 1943 negatives",
                           "negative 1943",
                           "page 1943",
                           "FNAB 1943",
                           "No. 1943",
                           "QX-1943",
                           "44-1943",
                           "982417/41",
                           "ABO 12/42",
                           "ABO 31/43",
                           "O.5/43",
                           "F.7/41",
                           "V-1650-7",
                           "R-2240-18",
                           "for two years",
                           "the last two days of it",
                           "within three weeks of delivery",
                           "two weeks on the island",
                           "the 14th machine",
                           "the second Lanner",
                           "a 24-year-old pilot",
                           "at 1430 hours",
                           "in his forties",
                           "$1943",
                           "4.43 m wide",
                           "'43'",
                           "1943-4417",
                           "pp. 417-423",
                           "version 1.2.3"}) {
    INFO(text);
    CHECK(shown(text).empty());
  }
}

TEST_CASE("a year in company that other readings claim") {
  check({
      {"at the 1968 congress", "1968 = 1968"},
      {"at 1968 feet", ""},
      {"by 439 AD", "439 AD = ../0439"},
      {"439 AD", ""},
      {"the New Year honours", ""},
      {"the Long March went on", ""},
      {"a rate of 3.14/day", ""},
      {"on 27 August 1626. The next year", "27 August 1626 = 1626-08-27; The next year = ?"},
      {"on 27 August. The next year", "27 August = ?; The next year = ?"},
      {"in 1940 on May 30 and the 5th Brigade", "1940 = 1940; May 30 = ?"},
      {"A sortie on the 14th cost much", "the 14th = ?"},
  });
}

TEST_CASE("a day and a Roman month without a year, after words") {
  check({
      {"sunk 7.IX, all saved", "7.IX = ?"},
      {"it left on 12.XI", "12.XI = ?"},
      {"from 3.V to 9.V", "3.V to 9.V = ?"},
      {"Table 4.II gives more", ""},
      {"4.II. Of lists", ""},
      {"a board of 2.v inches", ""},
  });
}

TEST_CASE("a number that belongs to what follows is left to it") {
  check({
      {"on 9 July 24 Squadron moved", "9 July = ?"},
      {"on 9 July 9 Squadron moved", "9 July = ?"},
      {"in May 24 aircraft left", "May = ?"},
      {"In May 1942 24 aircraft left", "May 1942 = 1942-05"},
  });
}

TEST_CASE("another language is another grammar file") {
  check(
      {
          {"am 14. Juni 1943", "14. Juni 1943 = 1943-06-14"},
          {"im Juni 1943", "Juni 1943 = 1943-06"},
          {"Ende Mai 1943", "Ende Mai 1943 = 1943-05-21/1943-05-31"},
          {"bis Ende September 1938", "Ende September 1938 = ../1938-09-30"},
          {"nach dem 14. Juni 1943", "dem 14. Juni 1943 = 1943-06-15/.."},
          {"zwischen dem 1. Juni und dem 3. August 1943",
           "dem 1. Juni und dem 3. August 1943 = 1943-06-01/1943-08-03"},
          {"von Juni bis August 1943", "Juni bis August 1943 = 1943-06/1943-08"},
          {"um 1943", "um 1943 = 1943~"},
          {"im Winter 1943/44", "Winter 1943/44 = 1943-24"},
          {"Montag, den 14. Juni 1943", "Montag, den 14. Juni 1943 = 1943-06-14"},
          {"zwei Tage später", "zwei Tage später = ?"},
          {"am folgenden Tag", "folgenden Tag = ?"},
          {"in den vierziger Jahren", "den vierziger Jahren = 194X"},
          {"14.6.43", "14.6.43 = 1943-06-14"},
          {"it may be in May 1943", "1943 = 1943"},
      },
      {}, "de");
  CHECK(found_in("Montag, den 14. Juni 1943", {}, "de")[0].weekday == 1);
}
