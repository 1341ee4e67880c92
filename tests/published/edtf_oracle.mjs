// Earliest and latest day of EDTF strings by the npm package `edtf`, as an oracle from outside.
//
// Prints a table of tab-separated values: string, first day, last day. A limit that the package
// does not give is "-", one that is infinite is "..", a string it refuses is "refused". The strings
// are generated here, the same on every run. TAILPROOF_NODE_MODULES may name the folder that holds
// node_modules; else the one beside this file is used. Exits with 3 when the package is not there.
import { createRequire } from 'node:module'
import { pathToFileURL } from 'node:url'

const home = process.env.TAILPROOF_NODE_MODULES
let edtf
try {
  const require = createRequire(home ? pathToFileURL(home + '/') : import.meta.url)
  edtf = require('edtf').default ?? require('edtf')
} catch {
  console.error('the npm package edtf is not installed')
  process.exit(3)
}

let state = 1943
function below(n) {
  state = (state * 69069 + 12345) % 4294967296
  return Math.floor(state / 65536) % n
}
const two = (n) => String(n).padStart(2, '0')
const four = (n) => String(n).padStart(4, '0')
const year = () => 1900 + below(60)
const month = () => `${year()}-${two(1 + below(12))}`
const day = () => `${month()}-${two(1 + below(28))}`
const any = () => [() => String(year()), month, day][below(3)]()
const in_order = (a, b) => (a.slice(0, 4) < b.slice(0, 4) ? [a, b] : null)
const sorted = (...members) => members.map(String).sort().join(',')

const strings = new Set()
function fill(count, make) {
  for (let tries = 0, made = 0; made < count && tries < 50 * count; ++tries) {
    const text = make()
    if (text === null || strings.has(text)) continue
    strings.add(text)
    ++made
  }
}

fill(40, day)
fill(12, () => `${year()}-${two(1 + below(12))}-${29 + below(3)}`)  // some do not exist
fill(8, () => year() + '-02-29')
fill(30, month)
fill(20, () => String(year()))
fill(10, () => four(below(1000)))
fill(10, () => '-' + four(1 + below(4000)))
fill(30, () => any() + '?~%'[below(3)])
fill(16, () => { const [y, m, d] = day().split('-'); return `${y}${'?~%'[below(3)]}-${m}-${d}` })
fill(16, () => { const [y, m, d] = day().split('-'); return `?${y}-${m}-~${d}` })
fill(12, () => { const [y, m, d] = day().split('-'); return `${y}-%${m}-${d}` })
fill(16, () => String(year()).slice(0, 3) + 'X')
fill(8, () => String(year()).slice(0, 2) + 'XX')
fill(10, () => year() + '-XX')
fill(14, () => month() + '-XX')
fill(8, () => year() + '-XX-XX')
fill(12, () => `${String(year()).slice(0, 3)}X-${two(1 + below(12))}`)
fill(16, () => `${String(year()).slice(0, 3)}X-${two(1 + below(12))}-${two(1 + below(28))}`)
fill(8, () => `${String(year()).slice(0, 2)}XX-${two(1 + below(12))}-XX`)
fill(6, () => year() + '-1X')
fill(50, () => { const pair = in_order(any(), any()); return pair && pair.join('/') })
fill(16, () => any() + '/..')
fill(16, () => '../' + any())
fill(10, () => any() + '/')
fill(10, () => '/' + any())
fill(12, () => { const pair = in_order(month(), month()); return pair && pair.join('~/') + '?' })
fill(20, () => `[${sorted(year(), year(), year())}]`)
fill(12, () => `{${sorted(month(), month())}}`)
fill(10, () => `[..${any()}]`)
fill(10, () => `[${any()}..]`)
fill(14, () => { const y = year(); return `[${y},${y + 2}..${y + 5}]` })
fill(14, () => { const y = year(); return `[${y}..${y + 3},${y + 5}]` })
fill(40, () => `${year()}-${21 + below(21)}`)
fill(8, () => `Y${10000 + below(60000) * 3}`)
fill(6, () => `Y-${10000 + below(60000) * 3}`)
fill(4, () => `Y${1 + below(9)}E5`)
fill(4, () => `Y${1 + below(9)}E8`)
fill(8, () => `${year()}S${1 + below(3)}`)
fill(10, () => `${day()}T${two(below(24))}:${two(below(60))}:${two(below(60))}Z`)
fill(6, () => `${day()}T${two(below(24))}:${two(below(60))}:${two(below(60))}+0${below(10)}:30`)
fill(4, () => `[${year()}, ${year()}]`)
fill(4, () => `${year()}-13`)
fill(4, () => `${year()}-${two(1 + below(12))}-32`)

function shown(limit) {
  if (limit === Infinity || limit === -Infinity) return '..'
  if (typeof limit !== 'number' || Number.isNaN(limit)) return '-'
  const date = new Date(limit)
  const y = date.getUTCFullYear()
  const sign = y < 0 ? '-' : ''
  const prefix = Math.abs(y) > 9999 ? 'Y' : ''
  return `${prefix}${sign}${four(Math.abs(y))}-${two(date.getUTCMonth() + 1)}-${two(date.getUTCDate())}`
}

for (const text of strings) {
  try {
    const date = edtf(text)
    console.log([text, shown(date.min), shown(date.max)].join('\t'))
  } catch {
    console.log([text, 'refused', 'refused'].join('\t'))
  }
}
