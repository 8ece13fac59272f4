// What an entry of a document is called and the unit its numbers have, from its path: in the parts column's words where that has some, else its
// name read out.
import { LABELLED, labelOf, unitOfKey } from '../job/sweep/labels.ts'

/** As in a path on the command line, by which entries are labelled; covers and films have the lens's entries. */
const KINDS: Record<string, string> = { emitterTypes: 'emitters', opticTypes: 'optics', elements: 'lens' }

/** Objects whose keys are names of the document, not words of its format. */
const RECORDS: ReadonlySet<string> = new Set(['siteAims', 'siteOptics', 'channelLengthMm', 'prices', 'massG'])

/** Entries whose name read out says too little. */
const OWN: Record<string, string> = {
  plusMinus: '±',
  on: 'counts',
  nd: 'index at 587.6 nm',
  keepOuts: 'keep-outs',
  thetaDeg: 'angles from the axis',
  phiDeg: 'azimuths',
  bendK: 'bend factor',
  classK: 'class',
  wired: 'boards',
  fileSha256: 'file’s checksum',
  packed: 'rays themselves',
  mm2: 'section',
  perMm: 'per mm',
  pascal: 'pressure',
  volts: 'voltage',
  amps: 'current',
  milliohm: 'resistance',
  seconds: 'moment',
}

/** Endings of names that state a unit, beside those of the sweep. */
const UNITS: readonly [RegExp, string][] = [
  [/KgM3$/, 'kg/m³'],
  [/Kcm2W$/, 'K cm²/W'],
  [/M3h$/, 'm³/h'],
  [/MS$/, 'm/s'],
  [/JK$/, 'J/K'],
  [/Um2$/, 'µm²'],
  [/Um4$/, 'µm⁴'],
  [/[mM]illiohm$/, 'mΩ'],
  [/[mM]icrofarad$/, 'µF'],
  [/(Percent|Pct)$/, '%'],
  [/Gram$/, 'g'],
  [/Hz$/, 'Hz'],
  [/Ah$/, 'Ah'],
  [/Lx$/, 'lx'],
  [/Cd$/, 'cd'],
  [/^classK$/, 'K'],
  [/(?<=[a-z])V$/, 'V'],
  [/(?<=[a-z])W$/, 'W'],
  [/(?<=[a-z])S$/, 's'],
]
/** Names that are nothing but their unit. */
const WHOLE: Record<string, string> = {
  mm2: 'mm²',
  volts: 'V',
  amps: 'A',
  ohm: 'Ω',
  pascal: 'Pa',
  nm: 'nm',
  seconds: 's',
}

/** “mm”, “deg”, “share” (of 1), “V”; empty: none, or its name says it. */
export function unitOf(key: string): string {
  const own = WHOLE[key] ?? UNITS.find(([ending]) => ending.test(key))?.[1]
  if (own !== undefined) return own
  return /[tT]ransmittance$|[rR]eflectance$/.test(key) ? 'share' : unitOfKey(key)
}

/** “stands at z”; “drivers “boost” efficiency”; “keep-outs no. 2 x”. `entry`: steps under `top`, rows as #id or by their number from 0. */
export function entryLabel(top: string, entry: readonly string[]): string {
  const isRow = (step: string) => step.startsWith('#') || /^\d+$/.test(step)
  const names = entry.filter((step) => !isRow(step))
  const kind = [KINDS[top] ?? top, ...names].join('.')
  if (LABELLED.includes(kind)) {
    const rows = entry.filter(isRow).map(rowWords)
    return [...rows, loweredFirst(labelOf(kind))].join(' ')
  }
  return entry
    .map((step, i) => {
      const before = entry[i - 1] ?? ''
      if (isRow(step)) return rowWords(step)
      if (RECORDS.has(before)) return `“${step}”`
      return `${i > 0 && !isRow(before) ? ', ' : ' '}${bareWords(step)}`
    })
    .join(' ')
    .replace(/ +/g, ' ')
    .replaceAll(' ,', ',')
    .trim()
}

function bareWords(key: string): string {
  const own = OWN[key]
  if (own !== undefined) return own
  const ending = UNITS.find(([e]) => e.test(key))?.[0]
  const bare = ending ? key.replace(ending, '') : key
  return bare === '' ? key : loweredFirst(labelOf(`-.${bare}`))
}

/** X stands alone, K/W not. */
const loweredFirst = (label: string): string =>
  /^.(\p{Ll}|$| )/u.test(label) ? `${label.charAt(0).toLowerCase()}${label.slice(1)}` : label

const rowWords = (step: string): string => (step.startsWith('#') ? `“${step.slice(1)}”` : `no. ${Number(step) + 1}`)
