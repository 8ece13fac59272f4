// From what the engines give, chunk by chunk, to the tallies of a run. Sums are added in the order of rounds and batches, whoever adds them.
import { spareFloat32, spareUint8 } from '../num/spareArrays.ts'
import { giveBackSums } from '../run/batches.ts'
import { giveBackExits } from '../run/exits.ts'
import { tallyLayout } from '../run/layout.ts'
import { BATCHES, EXIT_STRIDE, type Run, type TallyShape } from '../run/types.ts'
import type { Scene } from '../scene/scene.ts'
import { releaseMaps } from './gpu/mapBuffers.ts'
import type { PartialTally } from './gpu/types.ts'
import type { Pool } from './workers/pool.ts'

/** A run's first round as its engine gave it: plain data, that another thread can read. */
export interface FirstRound extends Pick<Run, 'seed' | 'shape' | 'emittedLm' | 'emittedW' | 'rays'> {
  /** Exit records are of the rays with an index below this. */
  recorded: number
  partials: PartialTally[]
}

/** Arrays of batches, then of halves. */
interface TallySet {
  arrays: Float64Array[]
  /** All zeros. */
  clean: boolean
}

/** Of runs that nobody reads any more: zeroing a set is cheaper than the garbage of a new one at every edit. */
const freeTallies: TallySet[] = []
const FREE_MOST = 3
const HALVES = 2

/** Nobody reads this run any more. `partials`: all that was ever put into it; where they are cells, zeroing these alone leaves zeros everywhere. */
export function recycleRun(run: Run, partials: readonly PartialTally[] = []): void {
  const { tallies, halves, shape, exits } = run
  giveBackExits(exits)
  giveBackSums(run)
  if (!halves) return
  const clean = partials.length > 0 && partials.every(({ cells }) => cells)
  if (clean) takeOut([tallies, halves], partials, tallyLayout(shape).windowLm)
  freeTallies.push({ arrays: [...tallies, ...halves], clean })
  if (freeTallies.length > FREE_MOST) freeTallies.shift() // mostly of another size, which no lamp asks for any more
}

type Tallies = readonly Float64Array[]

function takeOut([tallies, halves]: [Tallies, Tallies], partials: readonly PartialTally[], mapsAt: number): void {
  for (const tally of [...tallies, ...halves]) tally.fill(0, 0, mapsAt)
  for (const [batch, { cells }] of partials.entries())
    if (cells) for (const tally of [tallies[batch]!, halves[batch % HALVES]!]) zeroCells(tally, cells, mapsAt)
}

function zeroCells(tally: Float64Array, cells: Uint32Array, mapsAt: number): void {
  for (let n = 0; n < cells.length; n++) tally[mapsAt + cells[n]!] = 0
}

/** Of whatever was in them, unless they are clean. */
function tallySet(size: number): TallySet {
  const at = freeTallies.findIndex(({ arrays }) => arrays[0]!.length === size)
  if (at >= 0) return freeTallies.splice(at, 1)[0]!
  return { arrays: Array.from({ length: BATCHES + HALVES }, () => new Float64Array(size)), clean: true }
}

/** Nobody reads a first round's partials any more: they are used again, by the pool or, whole maps, by a device. */
export function releasePartials(pool: Pick<Pool, 'recycle'>, partials: readonly PartialTally[]): void {
  for (const partial of partials) {
    if (partial.cells) pool.recycle(partial)
    else releaseMaps(partial.maps)
  }
}

/** The buffers of a round's tallies, to be moved to another thread: one buffer may hold several arrays. */
export function partialsTransferList(partials: FirstRound['partials']): ArrayBuffer[] {
  const buffers = partials.flatMap(({ sums, maps, exits, cells }) =>
    [sums, maps, exits, ...(cells ? [cells] : [])].map((array) => array.buffer as ArrayBuffer),
  )
  return [...new Set(buffers)]
}

/** The run that this round begins. */
export function runOf({ seed, shape, emittedLm, emittedW, rays, recorded, partials }: FirstRound): Run {
  const parts = partials.map(({ exits }, batch) => ({ batch, rows: exits }))
  const layout = tallyLayout(shape)
  const set = tallySet(layout.size)
  const run = { ...newRun({ seed, shape, emittedLm, emittedW }, set), rays, exits: joinExits(parts, recorded) }
  putPartials(run, partials, layout.windowLm, set.clean)
  return run
}

/** Written over whatever a run before has left in the tallies. The same sums, in the same order, as if they were added to zeros. */
function putPartials(run: Run, partials: readonly PartialTally[], mapsAt: number, clean: boolean): void {
  const sparse = partials.some((partial) => partial.cells)
  if (!clean)
    for (const tally of [...run.tallies, ...(run.halves ?? [])]) tally.fill(0, 0, sparse ? tally.length : mapsAt)
  if (sparse) {
    for (const [batch, partial] of partials.entries()) addPartial(run, batch, partial, mapsAt)
    return
  }
  for (const [batch, { sums, maps }] of partials.entries()) {
    run.tallies[batch]!.set(sums)
    run.tallies[batch]!.set(maps, mapsAt)
  }
  for (const [parity, half] of run.halves!.entries()) {
    const own = partials.filter((_, batch) => batch % 2 === parity)
    for (const { sums } of own) for (let i = 0; i < mapsAt; i++) half[i]! += sums[i]!
    addUp(
      half,
      mapsAt,
      own.map((partial) => partial.maps),
    )
  }
}

/** Eight at a time: the sums pass through the memory once. */
function addUp(into: Float64Array, from: number, maps: readonly Float32Array[]): void {
  const [a, b, c, d, e, f, g, h] = maps as [Maps, Maps, Maps, Maps, Maps, Maps, Maps, Maps]
  for (let n = 0; n < a.length; n++) into[from + n] = a[n]! + b[n]! + c[n]! + d[n]! + e[n]! + f[n]! + g[n]! + h[n]!
}
type Maps = Float32Array

/** Into the batch and into its half of the batches. */
export function addPartial(run: Run, batch: number, partial: PartialTally, mapsAt: number): void {
  const { sums, maps, cells } = partial
  for (const tally of [run.tallies[batch]!, run.halves![batch % HALVES]!]) {
    addSums(tally, sums, mapsAt)
    if (cells) addCells(tally, maps, cells, mapsAt)
    else addMaps(tally, maps, mapsAt)
  }
}

function addSums(tally: Float64Array, sums: Float64Array, mapsAt: number): void {
  for (let i = 0; i < mapsAt; i++) tally[i]! += sums[i]!
}

function addMaps(tally: Float64Array, maps: Float32Array, mapsAt: number): void {
  for (let n = 0; n < maps.length; n++) tally[mapsAt + n]! += maps[n]!
}

function addCells(tally: Float64Array, values: Float32Array, cells: Uint32Array, mapsAt: number): void {
  for (let n = 0; n < values.length; n++) tally[mapsAt + cells[n]!]! += values[n]!
}

/** A run of no rays: of a lamp in which nothing shines. */
export function emptyRun(
  { emittedLm, emittedW }: Pick<Scene, 'emittedLm' | 'emittedW'>,
  shape: TallyShape,
  seed: number,
): Run {
  const run = newRun({ seed, shape, emittedLm, emittedW }, tallySet(tallyLayout(shape).size))
  for (const tally of [...run.tallies, ...run.halves!]) tally.fill(0)
  return run
}

/** What stands in its tallies is nothing yet: the first round is put there. */
function newRun(of: Pick<Run, 'seed' | 'shape' | 'emittedLm' | 'emittedW'>, { arrays }: TallySet): Run {
  const exits = { count: 0, fromRays: 0, data: new Float32Array(0), batch: new Uint8Array(0) }
  const halves: Run['halves'] = [arrays[BATCHES]!, arrays[BATCHES + 1]!]
  return { ...of, rays: 0, tallies: arrays.slice(0, BATCHES), halves, exits }
}

function joinExits(parts: { batch: number; rows: Float32Array }[], fromRays: number): Run['exits'] {
  const joined = makeExits()
  joined.reserve(parts.reduce((sum, { rows }) => sum + rows.length, 0) / EXIT_STRIDE)
  for (const { batch, rows } of parts) joined.add(batch, rows)
  return joined.read(fromRays)
}

const makeRoom = (count: number) => ({ data: spareFloat32(EXIT_STRIDE * count), batch: spareUint8(count) })

/** Exit records of a run as they come: earlier ones stay where they are, so that what was read before is the beginning of what is read later. */
export function makeExits() {
  let room = makeRoom(0)
  let count = 0
  /** For so many records in all; what was read before stays as it is. */
  function reserve(wanted: number): void {
    if (wanted <= room.batch.length) return
    const before = room
    room = makeRoom(Math.ceil(wanted))
    room.data.set(before.data.subarray(0, EXIT_STRIDE * count))
    room.batch.set(before.batch.subarray(0, count))
  }
  return {
    reserve,
    add(batch: number, rows: Float32Array): void {
      const end = count + rows.length / EXIT_STRIDE
      if (end > room.batch.length) reserve(Math.max(end, 2 * room.batch.length))
      room.data.set(rows, EXIT_STRIDE * count)
      room.batch.fill(batch, count, end)
      count = end
    },
    read: (fromRays: number): Run['exits'] => ({
      ...{ count, fromRays },
      data: room.data.subarray(0, EXIT_STRIDE * count),
      batch: room.batch.subarray(0, count),
    }),
  }
}
