// The wiring schedule as CSV, and its bill of materials; the same for page and command line.

import type { WireRun } from '../electrothermal/result.ts'
import { type CsvCell, csvText } from '../files/csv.ts'

const HEAD = [
  'run',
  'channel',
  'from',
  'to',
  'gauge',
  'length_mm',
  'contact_pairs',
  'amps',
  'drop_V',
  'loss_W',
  'bears_A',
  'fuse_A',
  'fuse_V',
  'plus',
  'minus',
]

/** Names are untrusted: one that begins like a formula must not become one in a spreadsheet. */
const safe = (text: string) => text.replace(/[\p{Cc}\p{Cf}]/gu, ' ').replace(/^[=+@-]/, "'$&")

export function wiringCsv(wiring: readonly WireRun[]): string {
  const rows = wiring.map((w): CsvCell[] => [
    safe(w.id),
    safe(w.channel ?? ''),
    safe(w.from),
    safe(w.to),
    w.gaugeWords,
    w.lengthMm,
    w.connectors,
    w.amps.toFixed(3),
    w.dropV.toFixed(4),
    w.lossW.toFixed(3),
    w.bearsA.toFixed(1),
    w.fuse?.amps ?? null,
    w.fuse?.volts ?? null,
    w.plus,
    w.minus,
  ])
  return csvText([HEAD, ...rows])
}

export interface BillItem {
  what: string
  amount: number
  /** Empty for pieces. */
  unit: 'm' | ''
}

/** Bill of materials without spares: single conductors by gauge and colour, drivers, fuses, contact pairs (as many on the return as on the feed). */
export function billOfMaterials(wiring: readonly WireRun[]): BillItem[] {
  const sums = new Map<string, BillItem>()
  const add = (what: string, amount: number, unit: BillItem['unit'] = '') => {
    const had = sums.get(what)
    if (had) had.amount += amount
    else if (amount > 0) sums.set(what, { what, amount, unit })
  }
  for (const w of wiring)
    for (const colour of [w.plus, w.minus]) add(`${w.gaugeWords} ${colour}`, w.lengthMm / 1000, 'm')
  for (const w of wiring) if (w.fuse) add(`fuse ${w.fuse.amps} A, ${w.fuse.volts} V`, 1)
  add('drivers', wiring.filter((w) => w.part === 'channel').length)
  add(
    'pairs of contacts',
    wiring.reduce((sum, w) => sum + 2 * w.connectors, 0),
  )
  return [...sums.values()]
}
