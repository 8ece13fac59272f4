// A thousand million rays and sixteen times as many, by runs whose batches lie nearer together as the root of the rays says: each ± falls so, or says where
// it stops. Derived: the standard error of a mean.
import { expect, test, vi } from 'vitest'
import { makeReader, sheetHeader } from '../../../src/job/beam/read.ts'
import type { FigureName, HotSpotName, Sheet } from '../../../src/job/beam/sheet.ts'
import type { Lamp } from '../../../src/lamp/schema.ts'
import { DEMOS } from '../../../src/library/demos.ts'
import { runToEnd } from '../../../src/num/scheduler.ts'
import { floorWords } from '../../../src/report/floor.ts'
import { BATCHES, type Run } from '../../../src/run/types.ts'
import { amount } from '../../kit/amount.ts'
import { CLEAN_LAMPS } from '../../kit/cleanLamps.ts'
import { traceHere } from '../../kit/traceHere.ts'

// A machine with other work takes its time.
vi.setConfig({ testTimeout: 240_000 })

const RAYS = 1 << 18
const MANY = 64
const MORE = 4 * MANY

/** As of k² times as many rays: the same means, and batches that lie k times nearer to them. */
function ofMore(run: Run, k: number): Run {
  const mean = run.tallies[0]!.map((_, i) => run.tallies.reduce((sum, t) => sum + t[i]! / BATCHES, 0))
  const tallies = run.tallies.map((tally) => tally.map((v, i) => k * k * (mean[i]! + (v - mean[i]!) / k)))
  return { ...run, rays: k * k * run.rays, tallies }
}

function sheetOf(lamp: Lamp, run: Run): Sheet {
  const known = { axis: null, wanted: 0, aims: [], sun: [], variants: [] }
  const paths = {
    start: new Uint32Array(1),
    xyz: new Float32Array(),
    fate: new Uint8Array(),
    emitter: new Uint32Array(),
  }
  const reader = makeReader(lamp, sheetHeader(lamp, [], 1, 1), () => paths)
  return runToEnd(reader.read(run, { ...known, seconds: 1, settled: true, engine: 'cpu' }))
}

type Row = { name: string; value: number; se: number; says: string | null }
function rowsOf(sheet: Sheet): Row[] {
  const says = (name: string) => floorWords(name as FigureName | HotSpotName, sheet)
  return [
    ...Object.entries(sheet.figures).map(([name, figure]) => ({ name, ...figure, says: says(name) })),
    ...Object.entries(sheet.hotSpots).map(([name, { kWm2, se }]) => ({ name, value: kWm2, se, says: says(name) })),
  ]
}

/** Sixteen times the rays: a quarter of ±; less where an angle is read from fewer points the less noise there is, or a place is searched for. */
const FALLS = 0.4
/** The noise of the one run stands still: round about the axis it makes dark places that tie, of which either half may find another. */
const TIES: Record<string, string> = { 'Gaussian of 1°': 'patternContrast' }
/** Sums in double precision. */
const ROUNDING = 1e-12

const LAMPS: [string, Lamp][] = [
  ...amount(['bench-check'], ['gannet-head', 'stile-lamp', 'bench-check']).map((name): [string, Lamp] => [
    name,
    DEMOS[name]!(),
  ]),
  ...CLEAN_LAMPS.filter(({ name }) =>
    amount(['Top hat of 10°'], ['Gaussian of 1°', 'Top hat of 10°']).includes(name),
  ).map(({ name, lamp }): [string, Lamp] => [name, lamp]),
]

test.each(LAMPS)('%s: every ± falls as the root of the rays, or says where it stops', (lampName, lamp) => {
  const run = traceHere(lamp, { rays: RAYS })
  const [sheet, more] = [MANY, MORE].map((k) => sheetOf(lamp, ofMore(run, k))) as [Sheet, Sheet]
  expect(sheet.rays).toBeGreaterThan(1e9)
  expect(sheet.figures.beamAngleDeg && sheet.figures.spillOutsideTarget).toBeDefined()
  const later = new Map(rowsOf(more).map((row) => [row.name, row]))
  for (const { name, value, se } of rowsOf(sheet)) {
    if (TIES[lampName] === name) continue
    const row = later.get(name)
    expect(row, name).toBeDefined()
    const floor = more.floors?.[name as FigureName] ?? 0
    const falls = row!.se <= Math.hypot(FALLS * se, floor) + ROUNDING * Math.abs(value)
    const stays = row!.se > 0.8 * se
    const line = `${name}: ${value} ± ${se}, of more rays ± ${row!.se}; ${floor}`
    expect(falls || row!.says, line).toBeTruthy()
    // What hardly falls at all says so.
    if (stays && se > ROUNDING * Math.abs(value)) expect(row!.says, line).not.toBeNull()
  }
  // Lines of the ledger that beam and field angle part stop where the spill outside these angles does.
  const outside = Math.hypot(more.floors?.spillOutsideBeam ?? 0, more.floors?.spillOutsideField ?? 0)
  const lines = new Map(more.ledger.map(({ line, share }) => [line, share]))
  for (const { line, share } of sheet.ledger) {
    const parted = /^delivered(In|Out)/.test(line) ? 1.1 * more.figures.efficiency!.value * outside : 0
    expect(lines.get(line)!.se, line).toBeLessThanOrEqual(Math.hypot(FALLS * share.se, parted) + ROUNDING)
  }
})
