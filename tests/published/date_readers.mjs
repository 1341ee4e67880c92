// Three readers of dates on the same bytes, in one run: the program's `claims`, and the npm packages
// `chrono-node` and `compromise-dates`, which know nothing of it.
//
//   node date_readers.mjs PROGRAM [-v] [--own] [--copies N] FOLDER
//
// FOLDER holds texts with their dates marked, in one of two forms. With a timex.tsv beside them
// (columns doc, start, end, text, val, mod, class, depth; offsets in characters), the texts are
// DOC.txt as they stand. Without one, dates are marked in the texts: {early June=1823-06 START},
// and {midsummer=SKIP} where none is wanted and none counts against a reader.
//
// Gold values are days, months, years, seasons (1943-SU, by northern months), decades (194) and centuries (19),
// with START, MID, END for "early", "mid", "late". Finding is strict (the same characters, but for
// small words before) or relaxed (an overlap); a value is right when first and last day agree, a
// part of a whole when it touches the right third of it. A reading over two marked dates
// counts for both. The measures are F1.
//
// The packages read a date without a year against a day that they are given. As they come it is
// today; `carried` gives them each paragraph with the last date before it that had a year.
//
// Prints one line of JSON for each reader: strict, relaxed, strict_value, value, and MB of text a
// second of processor time (not with --copies 0; of `claims` with its start, and all kinds of claim).
// Exits with 3 when the packages are not there. -v lists on standard error what the program missed;
// --own leaves the packages out.
import { spawnSync } from 'node:child_process'
import { mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync, existsSync } from 'node:fs'
import { createRequire } from 'node:module'
import { tmpdir } from 'node:os'
import { join, resolve } from 'node:path'
import { pathToFileURL } from 'node:url'

const home = process.env.TAILPROOF_NODE_MODULES
const is_own = process.argv.includes('--own')
let chrono, nlp
if (!is_own) try {
  const require = createRequire(home ? pathToFileURL(home + '/') : import.meta.url)
  chrono = require('chrono-node')
  nlp = require('compromise')
  nlp.plugin(require('compromise-dates'))
} catch {
  console.error('the npm packages chrono-node, compromise and compromise-dates are not installed')
  process.exit(3)
}

const options = process.argv.slice(2)
const is_verbose = options.includes('-v')
const copies_at = options.indexOf('--copies')
const copies = copies_at < 0 ? 4 : Number(options.splice(copies_at, 2)[1])
const [program, folder] = options.filter((option) => !['-v', '--own'].includes(option)).map((path) => resolve(path))

// ---- days: numbers, counted from 1970-01-01 ----

const day_number = (year, month, day) => {
  const date = new Date(0)
  date.setUTCFullYear(year, month - 1, day)
  return Math.round(date.getTime() / 86400000)
}
const last_of_month = (year, month) => day_number(year, month + 1, 0)
const month_of = (day) => new Date(day * 86400000).getUTCMonth() + 1
const year_of = (day) => new Date(day * 86400000).getUTCFullYear()

const kSeasonStart = { SP: 3, SU: 6, FA: 9, WI: 12, 21: 3, 22: 6, 23: 9, 24: 12 }

// First and last day of a gold value or a single EDTF date; null when it is no calendar date.
function days_of(value) {
  value = value.trim().replace(/[?~%]+$/, '')
  let m
  if ((m = value.match(/^(\d{4})-(\d\d)-(\d\d)$/))) {
    const day = day_number(+m[1], +m[2], +m[3])
    return [day, day]
  }
  if ((m = value.match(/^(\d{4})-(SP|SU|FA|WI|2[1-4])$/))) {
    const month = kSeasonStart[m[2]]
    return [day_number(+m[1], month, 1), last_of_month(+m[1], month + 2)]
  }
  if ((m = value.match(/^(\d{4})-(\d\d)(-XX)?$/))) {
    return +m[2] < 1 || +m[2] > 12 ? null : [day_number(+m[1], +m[2], 1), last_of_month(+m[1], +m[2])]
  }
  if ((m = value.match(/^(\d{4})-W(\d\d)$/))) {
    const fourth = day_number(+m[1], 1, 4)
    const monday = fourth - ((new Date(fourth * 86400000).getUTCDay() + 6) % 7) + 7 * (+m[2] - 1)
    return [monday, monday + 6]
  }
  if (/^\d{4}$/.test(value)) return [day_number(+value, 1, 1), day_number(+value, 12, 31)]
  if ((m = value.match(/^(\d{3})X?$/))) return [day_number(+m[1] * 10, 1, 1), day_number(+m[1] * 10 + 9, 12, 31)]
  if ((m = value.match(/^(\d\d)(XX)?$/))) return [day_number(+m[1] * 100, 1, 1), day_number(+m[1] * 100 + 99, 12, 31)]
  return null
}

function days_of_edtf(value) {
  const plain = (value ?? '').replace(/^[[{]|[\]}]$/g, '')
  if (plain.includes('/') || plain.includes('..')) {
    const [a, b] = plain.includes('/') ? plain.split('/') : plain.split('..')
    const bare = (text) => (text ?? '').replace(/\./g, '')
    return [days_of(bare(a))?.[0] ?? null, days_of(bare(b))?.[1] ?? null]
  }
  const all = plain.split(',').map(days_of).filter(Boolean)
  if (all.length === 0) return null
  return [Math.min(...all.map((d) => d[0])), Math.max(...all.map((d) => d[1]))]
}

const kThirds = { START: [0, 1 / 2], MID: [1 / 4, 3 / 4], END: [1 / 2, 1] }

function agrees(gold, mod, read) {
  if (read === null) return false
  const [a, b] = gold
  const [first, last] = read
  const is_same = first === a && last === b
  if (is_same) return true
  if (first === null || last === null) return false
  if (kThirds[mod]) {
    const length = b - a + 1
    const [from, to] = kThirds[mod]
    return first >= a - 1 && last <= b + 1 && last - a + 1 > from * length && first - a < to * length
  }
  if (month_of(a) === 12 && month_of(b) === 2) {
    // The winter of a year begins or ends in it.
    return year_of(first) === year_of(a) && [12, 1].includes(month_of(first))
  }
  if (b - a >= 89 && b - a <= 92) return first <= b && a <= last && last - first < 130
  return false
}

// ---- texts ----

function marked_texts() {
  const documents = []
  if (existsSync(join(folder, 'timex.tsv'))) {
    const [head, ...lines] = readFileSync(join(folder, 'timex.tsv'), 'utf8').split('\n').filter(Boolean)
    const names = head.split('\t')
    const gold = new Map()
    for (const line of lines) {
      const cells = line.split('\t')
      const row = Object.fromEntries(names.map((name, i) => [name, cells[i]]))
      if (+row.depth > 0) continue
      const is_wanted =
        !/^(duration|vague|no-value|BC|time-of-day|set)/.test(row.class) && !row.val.includes('REF')
      if (!gold.has(row.doc)) gold.set(row.doc, [])
      gold.get(row.doc).push({ begin: +row.start, end: +row.end, mod: row.mod, days: is_wanted ? days_of(row.val) : null, value: row.val })
    }
    for (const [name, dates] of gold) documents.push({ name, text: readFileSync(join(folder, name + '.txt'), 'utf8'), dates })
    return documents
  }
  for (const file of readdirSync(folder).filter((name) => name.endsWith('.txt')).sort()) {
    const dates = []
    let text = ''
    for (const piece of readFileSync(join(folder, file), 'utf8').split(/(\{[^{}]*\})/)) {
      const m = piece.match(/^\{([^=]*)=(\S+)(?: (\S+))?\}$/)
      if (m) dates.push({ begin: text.length, end: text.length + m[1].length, value: m[2], mod: m[3] ?? '', days: m[2] === 'SKIP' ? null : days_of(m[2]) })
      text += m ? m[1] : piece
    }
    documents.push({ name: file.replace(/\.txt$/, ''), text, dates })
  }
  return documents
}

// ---- readers: from a text to [{begin, end, days}] ----

function run_claims(paths) {
  const run = spawnSync(program, ['claims', '--format', 'jsonl', ...paths], { encoding: 'utf8', maxBuffer: 1 << 30 })
  return run.stdout.split('\n').filter(Boolean).map((line) => JSON.parse(line))
}

function by_claims(text) {
  const work = mkdtempSync(join(tmpdir(), 'dates'))
  writeFileSync(join(work, 'a.txt'), text)
  const starts = [0]
  for (let i = 0; i < text.length; ++i) if (text[i] === '\n') starts.push(i + 1)
  const at = (line, column) => starts[line - 1] + column - 1
  const dates = run_claims([join(work, 'a.txt')])
    .filter((claim) => claim.kind === 'date')
    .map((claim) => ({ begin: at(claim.line, claim.column), end: at(claim.end_line, claim.end_column), days: days_of_edtf(claim.value), value: claim.value }))
  rmSync(work, { recursive: true })
  return dates
}

// Each paragraph with the date it is read against: today, or the last one before that had a year.
function paragraphs(text, is_carried) {
  const pieces = []
  if (!is_carried) return [{ begin: 0, text }]
  for (const m of text.matchAll(/[^\n]+/g)) pieces.push({ begin: m.index, text: m[0] })
  return pieces
}

const utc_day = (date) => Math.floor(date.getTime() / 86400000)

function days_of_chrono(result) {
  const first = result.start
  const last = result.end ?? result.start
  const get = (part, name) => part.get(name)
  const widest = (part, is_last) => {
    const year = get(part, 'year')
    if (part.isCertain('day') || part.isCertain('weekday')) return day_number(year, get(part, 'month'), get(part, 'day'))
    if (part.isCertain('month')) return is_last ? last_of_month(year, get(part, 'month')) : day_number(year, get(part, 'month'), 1)
    if (part.isCertain('year')) return is_last ? day_number(year, 12, 31) : day_number(year, 1, 1)
    return day_number(year, get(part, 'month'), get(part, 'day'))
  }
  return [widest(first, false), widest(last, true)]
}

function by_chrono(text, is_carried) {
  const dates = []
  let reference = new Date()
  for (const piece of paragraphs(text, is_carried)) {
    for (const result of chrono.parse(piece.text, { instant: reference, timezone: 0 })) {
      const days = days_of_chrono(result)
      const begin = piece.begin + result.index
      dates.push({ begin, end: begin + result.text.length, days })
      if (is_carried && result.start.isCertain('year')) reference = new Date(days[0] * 86400000 + 43200000)
    }
  }
  return dates
}

function by_compromise(text, is_carried) {
  const dates = []
  let today = new Date()
  for (const piece of paragraphs(text, is_carried)) {
    const found = nlp(piece.text).dates({ timezone: 'UTC', today: today.toISOString().slice(0, 10) })
    for (const date of found.json({ offset: true })) {
      const { start, end } = date.dates ?? {}
      const offset = date.offset
      if (!offset) continue
      const begin = piece.begin + offset.start
      const shown = piece.text.substr(offset.start, offset.length).replace(/[\s.,;:)]+$/, '')
      const first = start ? utc_day(new Date(start.slice(0, 10) + 'T12:00:00Z')) : null
      const last = end ? utc_day(new Date(end.slice(0, 10) + 'T12:00:00Z')) : first
      dates.push({ begin, end: begin + shown.length, days: start ? [first, last] : null })
      if (is_carried && start && /\d{4}/.test(shown)) today = new Date(start.slice(0, 10) + 'T12:00:00Z')
    }
  }
  return dates
}

// ---- the measure ----

const kSmallWords = /^(in|on|the|of|by|during|about|around|from|until|since|circa|c\.|early in|late in)\s+/i
const without_small_words = (text) => text.replace(kSmallWords, '')

function score(documents, read, tell) {
  const n = { gold: 0, relaxed: 0, strict: 0, value: 0, strict_value: 0, extra: 0 }
  for (const { name, text, dates } of documents) {
    const found = read(text)
    const used = new Set()
    for (const gold of dates) {
      const hits = found.filter((date) => date.begin < gold.end && gold.begin < date.end)
      hits.forEach((hit) => used.add(hit))
      if (gold.days === null) continue
      ++n.gold
      const words = text.slice(gold.begin, gold.end)
      if (hits.length === 0) {
        tell(`missed  ${name}:${gold.begin} "${words}" = ${gold.value}`)
        continue
      }
      ++n.relaxed
      const shared = (hit) => Math.min(hit.end, gold.end) - Math.max(hit.begin, gold.begin)
      const hit = hits.reduce((best, other) => (shared(other) > shared(best) ? other : best))
      const hit_words = text.slice(hit.begin, hit.end)
      const is_strict =
        hit.end === gold.end &&
        gold.begin + words.length - without_small_words(words).length ===
          hit.begin + hit_words.length - without_small_words(hit_words).length
      const is_shared = dates.some((other) => other !== gold && other.begin < hit.end && hit.begin < other.end)
      const is_right =
        agrees(gold.days, gold.mod, hit.days) ||
        (is_shared && hit.days !== null && (hit.days[0] === gold.days[0] || hit.days[1] === gold.days[1]))
      n.strict += is_strict
      n.value += is_right
      n.strict_value += is_strict && is_right
      if (!is_right) tell(`value   ${name}:${gold.begin} "${words}" = ${gold.value} ${gold.mod}, read as ${hit.value} of "${hit_words}"`)
      else if (!is_strict) tell(`extent  ${name}:${gold.begin} "${words}", read "${hit_words}"`)
    }
    for (const date of found) {
      if (used.has(date)) continue
      ++n.extra
      tell(`extra   ${name}:${date.begin} "${text.slice(date.begin, date.end)}" ${date.value}`)
    }
  }
  const f1 = (right) => {
    const precision = right / Math.max(1, n.relaxed + n.extra)
    const recall = right / Math.max(1, n.gold)
    return right === 0 ? 0 : (2 * precision * recall) / (precision + recall)
  }
  const rounded = (x) => Math.round(x * 1000) / 1000
  return { gold: n.gold, found: n.relaxed, extra: n.extra, strict: rounded(f1(n.strict)), relaxed: rounded(f1(n.relaxed)), strict_value: rounded(f1(n.strict_value)), value: rounded(f1(n.value)) }
}

// ---- speed: processor time for the same bytes, each document `copies` times ----

function speed_of(documents, read) {
  documents.forEach(({ text }) => read(text))  // warm
  const before = process.cpuUsage()
  const spent = () => { const { user, system } = process.cpuUsage(before); return user + system }
  let rounds = 0
  for (; rounds === 0 || (rounds < copies && spent() < 20e6); ++rounds) documents.forEach(({ text }) => read(text))
  return bytes(documents) * rounds / spent()
}

const bytes = (documents) => documents.reduce((sum, { text }) => sum + Buffer.byteLength(text), 0)

function speed_of_claims(documents) {
  const work = mkdtempSync(join(tmpdir(), 'dates'))
  const many = 20 * copies
  for (let i = 0; i < many; ++i) documents.forEach(({ name, text }) => writeFileSync(join(work, `${name}-${i}.txt`), text))
  const run = spawnSync('bash', ['-c', 'TIMEFORMAT="%U %S"; time "$0" claims --format jsonl "$1" >/dev/null 2>&1', program, work], { encoding: 'utf8' })
  rmSync(work, { recursive: true })
  const [user, system] = run.stderr.trim().split('\n').pop().split(' ').map(Number)
  return bytes(documents) * many / 1e6 / (user + system)
}

const documents = marked_texts()
const quiet = () => {}
const rows = [
  ['tailproof claims', by_claims, () => speed_of_claims(documents), is_verbose ? console.error : quiet],
  ...[false, true].flatMap((is_carried) => {
    const of = (read) => [(text) => read(text, is_carried), () => speed_of(documents, (text) => read(text, is_carried)), quiet]
    const how = is_carried ? ', carried' : ''
    return [['chrono-node' + how, ...of(by_chrono)], ['compromise-dates' + how, ...of(by_compromise)]]
  })
]
for (const [reader, read, speed, tell] of is_own ? rows.slice(0, 1) : rows) {
  const result = { reader, ...score(documents, read, tell) }
  if (copies > 0) result.mb_per_second = Math.round(speed() * 100) / 100
  console.log(JSON.stringify(result))
}
