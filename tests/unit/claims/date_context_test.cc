#include "claims/date_context.h"

#include <catch2/catch.hpp>
#include <string>
#include <vector>

using namespace tailproof;

namespace {

const Grammars& grammars() {
  static Complaints complaints;
  static const Grammars all = Grammars::read({}, {TAILPROOF_TOP "/grammars/en"}, "en", complaints);
  for (const Complaint& complaint : complaints) {
    FAIL(complaint.file << ":" << complaint.line << ": " << complaint.message);
  }
  return all;
}

// A manuscript read block by block.
class Reading {
 public:
  std::vector<ResolvedDate> resolved(BlockKind kind, const std::string& text) {
    return context.resolve_block(
        kind, find_dates(text, tokenize(text, grammars()), grammars(), settings_));
  }
  // Values of a block's dates, an inherited one with "^", an unknown one "?", an impossible one
  // "!".
  std::string block(BlockKind kind, const std::string& text) {
    std::string out;
    for (const ResolvedDate& date : resolved(kind, text)) {
      if (!out.empty()) out += ' ';
      out += date.impossible ? "!" : date.date.is_unknown() ? "?" : date.date.text();
      if (date.inherited) out += '^';
    }
    return out;
  }
  std::string body(const std::string& text) { return block(BlockKind::kBody, text); }
  std::string caption(const std::string& text) { return block(BlockKind::kCaption, text); }
  std::string heading(const std::string& text) { return block(BlockKind::kHeading, text); }

 private:
  LedgerSettings settings_;

 public:
  DateContext context{settings_};
};

std::string body(const std::string& text) { return Reading().body(text); }

}  // namespace

TEST_CASE("a year left out is that of the date before") {
  CHECK(body("It came on 9 July 1942. On 3 August it left.") == "1942-07-09 1942-08-03");
  CHECK(body("It came in July 1942 and left in September.") == "1942-07 1942-09");
  CHECK(body("It came in 1942. In July it left.") == "1942 1942-07");
  CHECK(body("It came in December 1942. In January it left.") == "1942-12 1943-01");
  CHECK(body("It came in January 1943. In December it had been promised.") == "1943-01 1942-12");
  CHECK(body("In the summer of 1942 it flew; by autumn it did not.") == "1942-22 ../1942-23");
  CHECK(body("On 9 July 1942 it came, and on the 14th it left.") == "1942-07-09 1942-07-14");
  CHECK(body("On 28 July 1942 it came, and on the 3rd it left.") == "1942-07-28 1942-08-03");
  CHECK(body("It came in March 1944. On 29 February it had been sold.") == "1944-03 1944-02-29");
}

TEST_CASE("a year left out is that of a later date of the sentence, or else of the block") {
  CHECK(
      body("Delivered 3 May, joined the unit the next day, moved three weeks later and was lost in "
           "the night of 27/28 June 1943.") ==
      "1943-05-03 1943-05-04 1943-05-25 1943-06-27/1943-06-28");
  CHECK(body("Delivered in December, lost on 3 May 1943.") == "1942-12 1943-05-03");
  CHECK(body("Delivered 3 May. Lost 4 June 1943.") == "1943-05-03 1943-06-04");
}

TEST_CASE("a year left out is rather the one spoken of") {
  CHECK(body("It came in March 1845. On 29 December it left.") == "1845-03 1845-12-29");
  CHECK(body("It came in January 1845. On 29 December it sailed.") == "1845-01 1844-12-29");
  CHECK(body("They were few in March 1965 and many by December. In May they left.") ==
        "1965-03 ../1965-12 1965-05");
  CHECK(body("On 10 September 2007 he spoke of next summer. In September it rained.") ==
        "2007-09-10 2008-22 2007-09");
  CHECK(body("In February 1943 it stood where it had before the summer offensive. In mid-March it "
             "moved.")
            .substr(0, 7) == "1943-02");
  CHECK(
      body("On 9 April 2003 it fell. In November 2008 they met there. On 15 April it was over.") ==
      "2003-04-09 2008-11 2003-04-15");
}

TEST_CASE("the new year is the next, or the one that has begun") {
  CHECK(body("It came on 11 December 1853. Early in the new year it left.") ==
        "1853-12-11 1854-01/1854-04");
  CHECK(body("It came on 6 January 1854. The new year began badly.") == "1854-01-06 1854");
  CHECK(body("It came on 6 May 1854 and left before the year was out.").substr(0, 10) ==
        "1854-05-06");
}

TEST_CASE("a heading of several years goes on from the day before it") {
  Reading reading;
  CHECK(reading.body("He was chosen on 26 August 1619.") == "1619-08-26");
  CHECK(reading.heading("The Corvan years, 1618-24") == "1618/1624");
  CHECK(reading.body("He was crowned on 4 November.") == "1619-11-04^");
}

TEST_CASE("the following summer is not the one about to begin") {
  CHECK(body("It came on 19 May 1635. The following summer it left.") == "1635-05-19 1636-22");
  CHECK(body("It came on 19 March 1635. The following summer it left.") == "1635-03-19 1635-22");
}

TEST_CASE("words that point at a date") {
  const auto after = [](const std::string& words) {
    const std::string text = "On 9 July 1942 it came; " + words;
    return body(text).substr(11);
  };
  CHECK(after("that day it flew.") == "1942-07-09");
  CHECK(after("the same afternoon it flew.") == "1942-07-09");
  CHECK(after("next morning it flew.") == "1942-07-10");
  CHECK(after("the following day it flew.") == "1942-07-10");
  CHECK(after("the day before, it had flown.") == "1942-07-08");
  CHECK(after("the following month it flew.") == "1942-08");
  CHECK(after("later that month it flew.") == "1942-07");
  CHECK(after("at the end of the month it flew.") == "1942-07-21/1942-07-31");
  CHECK(after("by the end of the year it flew.") == "../1942-12");
  CHECK(after("the following year it flew.") == "1943");
  CHECK(after("the year before, it had flown.") == "1941");
  CHECK(after("that October it flew.") == "1942-10");
  CHECK(after("the next February it flew.") == "1943-02");
  CHECK(after("the previous October it flew.") == "1941-10");
  CHECK(after("the previous summer it flew.") == "1941-22");
  CHECK(after("in the June of the following year it flew.") == "1943-06");
  CHECK(after("on 3 August of that year it flew.") == "1942-08-03");
  CHECK(after("the following Monday it flew.") == "1942-07-13");
  CHECK(after("the previous Monday it flew.") == "1942-07-06");
  CHECK(after("on the 3rd of the following month it flew.") == "1942-08-03");
}

TEST_CASE("a month or year that the word behind it places") {
  CHECK(body("It came on 9 July 1942 and left in the March following.") == "1942-07-09 1943-03");
  CHECK(body("It came on 9 July 1942 and burnt on 4 March following.") == "1942-07-09 1943-03-04");
  CHECK(body("It came on 9 July 1942 and burnt on the 4th of the March after, at dusk.") ==
        "1942-07-09 1943-03-04");
  CHECK(body("It came on 9 July 1942 and had been made the May before.") == "1942-07-09 1942-05");
  CHECK(body("It came on 9 July 1942; the other followed in October of the year after.") ==
        "1942-07-09 1943-10");
  CHECK(body("It came on 9 July 1942 and left on 3 August of the year following.") ==
        "1942-07-09 1943-08-03");
  // The word leads on to something else.
  CHECK(body("It came in July 1942 and left in October after the raid.") == "1942-07 1942-10");
  CHECK(body("It came on 9 July 1942 and left in October of the year after the raid.") ==
        "1942-07-09 1942-10");
}

TEST_CASE("an offset has the precision of its period") {
  const auto after = [](const std::string& words) {
    return body("On 31 January 1943 it came; " + words).substr(11);
  };
  CHECK(after("two days later it flew.") == "1943-02-02");
  CHECK(after("a fortnight before, it flew.") == "1943-01-17");
  CHECK(after("three weeks later it flew.") == "1943-02-21");
  CHECK(after("a month later it flew.") == "1943-02");
  CHECK(after("a month to the day later it flew.") == "1943-02-28");
  CHECK(after("six months earlier it flew.") == "1942-07");
  CHECK(after("two years later it flew.") == "1945");
  CHECK(body("It came in July 1942; three weeks later it left.") ==
        "1942-07 1942-07-22/1942-08-21");
  CHECK(body("It came in July 1942; two months later it left.") == "1942-07 1942-09");
  CHECK(body("It came in 1942; two days later it left.") == "1942 ?");
}

TEST_CASE("a night of two days is counted on from its end and back from its start") {
  CHECK(body("In the night of 9/10 July 1942 it came; the next day it left.") ==
        "1942-07-09/1942-07-10 1942-07-11");
  CHECK(body("In the night of 9/10 July 1942 it came; two days earlier it had left.") ==
        "1942-07-09/1942-07-10 1942-07-07");
}

TEST_CASE("what comes from another block is marked as inherited") {
  Reading reading;
  CHECK(reading.heading("The year 1942") == "1942");
  CHECK(reading.body("It came in July. On the 9th it left.") == "1942-07^ 1942-07-09^");
  CHECK(reading.body("On 3 August it flew.") == "1942-08-03^");
  CHECK(reading.body("On 3 August 1942 it flew.") == "1942-08-03");
  CHECK(reading.heading("1943") == "1943");
  CHECK(reading.body("In July it flew again.") == "1943-07^");
}

TEST_CASE("captions lean on running text, and nothing leans on captions") {
  Reading reading;
  CHECK(reading.body("It came in July 1942.") == "1942-07");
  CHECK(reading.caption("Seen on 3 May 1938, on the 9th at rest.") == "1938-05-03 1938-05-09");
  CHECK(reading.caption("Seen on 3 August.") == "1942-08-03^");
}

TEST_CASE("a default holds until it is taken back") {
  Reading reading;
  CHECK(reading.body("It came in July 1938.") == "1938-07");
  reading.context.set_default(Edtf::parse("1942").value());
  CHECK(reading.caption("Seen on 3 August.") == "1942-08-03^");
  reading.context.set_default(Edtf());
  CHECK(reading.caption("Seen on 3 August.") == "1938-08-03^");
}

TEST_CASE("a year in passing moves nothing") {
  CHECK(
      body("On 9 July 1942 it came. Its pilot, whose 1971 memoirs tell of it, left on 3 August.") ==
      "1942-07-09 1971 1942-08-03");
  CHECK(
      body("It came on 9 July 1942. Built in the previous year, it was old. In August it left.") ==
      "1942-07-09 1941 1942-08");
}

TEST_CASE("a year counted from another steers only what follows it at once") {
  CHECK(body("The rates of 1932 undid it. They had fallen since the previous year; in July he "
             "left.") == "1932 1931/.. 1932-07");
  CHECK(body("In 1942 it came. The following year, in July, it left.") == "1942 1943 1943-07");
  CHECK(body("It came on 9 September 1942. Later that year it broke, and in February it burnt.") ==
        "1942-09-09 1942 1943-02");
  CHECK(
      body("It came on 9 July 1941. The line had stood by 1942. In August of that year it left.") ==
      "1941-07-09 ../1942 1942-08");
}

TEST_CASE("a paragraph that runs through years moves the story on") {
  Reading reading;
  reading.body("It came on 9 July 1914.");
  reading.body("The works, founded in 1919, made bells until 1931; a mast rose early in 1930.");
  CHECK(reading.body("The heat of 1932 undid it. In August it fell.") == "1932 1932-08");
}

TEST_CASE("a date told in the block comes before those of other blocks") {
  Reading reading;
  reading.body("It came on 9 November 1943.");
  reading.body("It flew on 10 January 1944.");
  CHECK(reading.body("It was mended in June and left on 21 November.") == "1944-06^ 1944-11-21^");
}

TEST_CASE("the winter of a year is the one that begins in it") {
  CHECK(body("It came in the winter of 1942 and got its band that year.") == "1942-24 1942");
  CHECK(body("It came in 1942 and was stored that winter.") == "1942 1942-24");
  CHECK(body("It came on 9 October 1942. Still new in 1942, it was stored that winter.") ==
        "1942-10-09 1942 1942-24");
}

TEST_CASE("a movable feast takes its year from the context") {
  CHECK(body("It came in April 1943. On Whit Monday it left.") == "1943-04 1943-06-14");
}

TEST_CASE("without anything before, the date stays unknown") {
  CHECK(body("It came on 9 July.") == "?");
  CHECK(body("The next day it left.") == "?");
}

TEST_CASE("a day that its month has not is impossible in whatever year") {
  CHECK(body("It came in May 1942. On 31 June it left.") == "1942-05 !");
  CHECK(body("It came on 9 June 1942 and left on the 31st.") == "1942-06-09 !");
}

TEST_CASE("the ends of a range are given apart, and the date without its bound") {
  Reading reading;
  const auto range = reading.resolved(BlockKind::kBody, "From 9 July to 3 August 1942 it flew.");
  REQUIRE(range.size() == 1);
  CHECK(range[0].first.text() == "1942-07-09");
  CHECK(range[0].second.text() == "1942-08-03");
  const auto years = reading.resolved(BlockKind::kBody, "In 1942-44 it flew.");
  REQUIRE(years.size() == 1);
  CHECK(years[0].first.text() == "1942");
  CHECK(years[0].second.text() == "1944");
  const auto bound = reading.resolved(BlockKind::kBody, "By July 1942 it flew.");
  REQUIRE(bound.size() == 1);
  CHECK(bound[0].date.text() == "../1942-07");
  CHECK(bound[0].plain.text() == "1942-07");
}

TEST_CASE("a day that does not exist is no anchor, but tells the year") {
  CHECK(body("It came on 9 July 1942. The crane came on 31 September 1944. It was lost on the "
             "12th.") == "1942-07-09 ! ?");
  CHECK(
      body("It came on 9 July 1942. The crane came on 31 September 1944. A week later it went.") ==
      "1942-07-09 ! ?");
  CHECK(body("It came on 9 July 1942. The crane came on 31 September 1944. In October it went.") ==
        "1942-07-09 ! 1944-10");
  CHECK(body("The crane came on 31 September 1944. On 9 July 1942 it came, on the 12th it went.") ==
        "! 1942-07-09 1942-07-12");
}
