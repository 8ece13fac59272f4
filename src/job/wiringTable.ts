// The schedule of wires as CSV, the same from the page and from the command line.
import { type CsvCell, csvText } from '../files/csv.ts'
import type { WireRun } from './powerResult.ts'

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

/** Names are the builder's: one that begins like a formula must not become one in a spreadsheet. */
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
