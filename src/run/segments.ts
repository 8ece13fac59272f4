// Ray segments in air, and the columns that the search for hot places reads. A segment that leaves the lamp has no end.
import type { RayColumns } from './exits.ts'
import { BATCHES } from './types.ts'

/** Record of one segment: x y z dx dy dz lengthMm (Infinity: goes on) radiantWeight wavelengthNm flags. */
export const SEGMENT_STRIDE = 10

/** The lens has sent this light back; of sunlight: it has come in through the lens. */
export const RETURNED_SEGMENT = 1
/** It leaves where no beam should: out of a gap, past the face or the lens. */
export const LEAKED_SEGMENT = 2

/** Segments by column: start (mm), unit direction, length (mm, Infinity: goes on into the open), W each. */
export interface Segments {
  count: number
  xMm: Float32Array
  yMm: Float32Array
  zMm: Float32Array
  dx: Float32Array
  dy: Float32Array
  dz: Float32Array
  lengthMm: Float32Array
  watts: Float32Array
  wavelengthNm: Float32Array
  /** RETURNED_SEGMENT, LEAKED_SEGMENT. */
  flags: Uint8Array
  batch: Uint8Array
  /** Watts of a ray that has lost nothing. */
  wattsOfOne: number
}

/** Columns with room for `count` segments, all zero. */
export function makeSegments(count: number, wattsOfOne: number): Segments {
  const column = () => new Float32Array(count)
  return {
    count,
    xMm: column(),
    yMm: column(),
    zMm: column(),
    dx: column(),
    dy: column(),
    dz: column(),
    lengthMm: column(),
    watts: column(),
    wavelengthNm: column(),
    flags: new Uint8Array(count),
    batch: new Uint8Array(count),
    wattsOfOne,
  }
}

/** Columns of the records of each batch (SEGMENT_STRIDE floats a segment); `wattsOfOne`: emitted watts over rays started. */
export function segmentsOfRecords(records: readonly Float32Array[], wattsOfOne: number): Segments {
  const out = makeSegments(
    records.reduce((sum, r) => sum + r.length / SEGMENT_STRIDE, 0),
    wattsOfOne,
  )
  const columns = COLUMNS.map((name) => out[name])
  let n = 0
  for (const [batch, rows] of records.entries()) {
    for (let at = 0; at < rows.length; at += SEGMENT_STRIDE, n++) {
      // COLUMNS names the fields in the order of a record.
      for (let k = 0; k < SEGMENT_STRIDE; k++) columns[k]![n] = rows[at + k]!
      out.watts[n]! *= wattsOfOne
      out.batch[n] = batch % BATCHES
    }
  }
  return out
}

/** The segments for which `keep` holds, in their order; the columns are copies, in `into` where that is given. */
export function selectSegments(segments: Segments, keep: (i: number) => boolean, into?: SegmentsRoom): Segments {
  const index = roomFor(segments.count).index
  let count = 0
  for (let i = 0; i < segments.count; i++) if (keep(i)) index[count++] = i
  return takeSegments(segments, index, count, into)
}

/** The first `count` segments with these numbers, as copies. */
function takeSegments(segments: Segments, index: Uint32Array, count: number, into?: SegmentsRoom): Segments {
  const { wattsOfOne } = segments
  const out = into ? firstOf(columnsOf(into, count), count, wattsOfOne) : makeSegments(count, wattsOfOne)
  for (const name of COLUMNS) {
    const [from, to] = [segments[name], out[name]]
    for (let n = 0; n < count; n++) to[n] = from[index[n]!]!
  }
  return out
}

/** Numbers of chosen segments, and where each begins and how long it is: used again from call to call. */
let room = { index: new Uint32Array(0), from: new Float64Array(0), length: new Float64Array(0) }

function roomFor(count: number): typeof room {
  if (room.index.length < count)
    room = { index: new Uint32Array(count), from: new Float64Array(count), length: new Float64Array(count) }
  return room
}

const COLUMNS = [
  'xMm',
  'yMm',
  'zMm',
  'dx',
  'dy',
  'dz',
  'lengthMm',
  'watts',
  'wavelengthNm',
  'flags',
  'batch',
] as const satisfies readonly (keyof Segments)[]

/** Both sets as one. `wattsOfOne` is the greater: the wide side of an error. */
export function joinSegments(a: Segments, b: Segments): Segments {
  const out = makeSegments(a.count + b.count, Math.max(a.wattsOfOne, b.wattsOfOne))
  for (const name of COLUMNS) {
    out[name].set(a[name].subarray(0, a.count))
    out[name].set(b[name].subarray(0, b.count), a.count)
  }
  return out
}

/**
 * The parts of the segments inside a ball (centre and radius in mm); segments that miss it are left out. Lengths are then finite.
 */
export function clipToBall(
  segments: Segments,
  [cx, cy, cz]: readonly [number, number, number],
  radiusMm: number,
): Segments {
  const { index, from, length } = roomFor(segments.count)
  const { xMm, yMm, zMm, dx, dy, dz, lengthMm } = segments
  const squareOfRadius = radiusMm * radiusMm
  let count = 0
  for (let i = 0; i < segments.count; i++) {
    const x = xMm[i]! - cx
    const y = yMm[i]! - cy
    const z = zMm[i]! - cz
    const along = x * dx[i]! + y * dy[i]! + z * dz[i]!
    const square = along * along - (x * x + y * y + z * z - squareOfRadius)
    if (square <= 0) continue
    const half = Math.sqrt(square)
    const begin = Math.max(0, -along - half)
    const end = Math.min(lengthMm[i]!, half - along)
    if (!(end > begin)) continue
    index[count] = i
    from[count] = begin
    length[count] = end - begin
    count++
  }
  const out = takeSegments(segments, index, count)
  for (let n = 0; n < count; n++) {
    const begin = from[n]!
    out.xMm[n]! += begin * out.dx[n]!
    out.yMm[n]! += begin * out.dy[n]!
    out.zMm[n]! += begin * out.dz[n]!
    out.lengthMm[n] = length[n]!
  }
  return out
}

interface Ball {
  /** mm. */
  centre: readonly [number, number, number]
  radiusMm: number
}

/** Columns that are used again: what was written into them before is then lost. */
export interface SegmentsRoom {
  columns: Segments
}

/** Room for nothing yet: it grows with what is written into it. */
export const makeSegmentsRoom = (): SegmentsRoom => ({ columns: makeSegments(0, 0) })

/** Columns of a room for so many segments at least. */
function columnsOf(room: SegmentsRoom, most: number): Segments {
  if (room.columns.count < most) room.columns = makeSegments(Math.ceil(most), 0)
  return room.columns
}

/**
 * The segments of records (as `segmentsOfRecords`) clipped to the first ball, then to the next (as `clipToBall`), to the last bit, in one pass and into
 * `room`; and how many of them lie in the first ball. The last ball's lengths are finite.
 */
export function clipRecords(
  records: readonly Float32Array[],
  wattsOfOne: number,
  balls: readonly Ball[],
  room: SegmentsRoom,
): { segments: Segments; inFirst: number } {
  const most = records.reduce((sum, rows) => sum + rows.length / SEGMENT_STRIDE, 0)
  const to = columnsOf(room, most)
  const limits = balls.map(({ centre: [x, y, z], radiusMm }) => ({ x, y, z, square: radiusMm * radiusMm }))
  let inFirst = 0
  let count = 0
  for (const [batch, rows] of records.entries()) {
    next: for (let at = 0; at < rows.length; at += SEGMENT_STRIDE) {
      let x = rows[at]!
      let y = rows[at + 1]!
      let z = rows[at + 2]!
      let length = rows[at + 6]!
      const dx = rows[at + 3]!
      const dy = rows[at + 4]!
      const dz = rows[at + 5]!
      for (let b = 0; b < limits.length; b++) {
        const limit = limits[b]!
        const px = x - limit.x
        const py = y - limit.y
        const pz = z - limit.z
        const along = px * dx + py * dy + pz * dz
        const square = along * along - (px * px + py * py + pz * pz - limit.square)
        if (square <= 0) continue next
        const half = Math.sqrt(square)
        const begin = Math.max(0, -along - half)
        const end = Math.min(length, half - along)
        if (!(end > begin)) continue next
        // Rounded as a column rounds it.
        x = Math.fround(x + begin * dx)
        y = Math.fround(y + begin * dy)
        z = Math.fround(z + begin * dz)
        length = Math.fround(end - begin)
        if (b === 0) inFirst++
      }
      to.xMm[count] = x
      to.yMm[count] = y
      to.zMm[count] = z
      to.dx[count] = dx
      to.dy[count] = dy
      to.dz[count] = dz
      to.lengthMm[count] = length
      to.watts[count] = rows[at + 7]! * wattsOfOne
      to.wavelengthNm[count] = rows[at + 8]!
      to.flags[count] = rows[at + 9]!
      to.batch[count] = batch % BATCHES
      count++
    }
  }
  return { segments: firstOf(to, count, wattsOfOne), inFirst }
}

/** The first `count` of them, in the same memory. */
function firstOf(columns: Segments, count: number, wattsOfOne: number): Segments {
  const { xMm, yMm, zMm, dx, dy, dz, lengthMm, watts, wavelengthNm, flags, batch } = columns
  return {
    count,
    xMm: xMm.subarray(0, count),
    yMm: yMm.subarray(0, count),
    zMm: zMm.subarray(0, count),
    dx: dx.subarray(0, count),
    dy: dy.subarray(0, count),
    dz: dz.subarray(0, count),
    lengthMm: lengthMm.subarray(0, count),
    watts: watts.subarray(0, count),
    wavelengthNm: wavelengthNm.subarray(0, count),
    flags: flags.subarray(0, count),
    batch: batch.subarray(0, count),
    wattsOfOne,
  }
}

/**
 * Rays that cross a plane as segments that begin there, `lengthMm` long. Wavelengths aren't known and stand as 0. `into`: a room that was only ever
 * written into by this.
 */
export function segmentsOfColumns(rays: RayColumns, lengthMm = 1e6, into?: SegmentsRoom): Segments {
  const { count, wattsOfOne } = rays
  const out = into ? firstOf(columnsOf(into, count), count, wattsOfOne) : makeSegments(count, wattsOfOne)
  const { xMm, yMm, zMm, dx, dy, dz } = out
  const { slopeX, slopeY } = rays
  for (let i = 0; i < count; i++) {
    const sx = slopeX[i]!
    const sy = slopeY[i]!
    const along = 1 / Math.sqrt(1 + sx * sx + sy * sy)
    dx[i] = sx * along
    dy[i] = sy * along
    dz[i] = along
  }
  xMm.set(rays.xMm.subarray(0, count))
  yMm.set(rays.yMm.subarray(0, count))
  zMm.fill(rays.zMm)
  out.lengthMm.fill(lengthMm)
  out.watts.set(rays.watts.subarray(0, count))
  out.batch.set(rays.batch.subarray(0, count))
  return out
}

/**
 * Segments without an end that run forward (dz > 0), as rays crossing the plane z = zMm, joined to the columns of that plane. Lumens of
 * the added rays aren't known and stand as 0.
 */
export function addToColumns(rays: RayColumns, segments: Segments): RayColumns {
  const index: number[] = []
  for (let i = 0; i < segments.count; i++)
    if (segments.lengthMm[i] === Infinity && segments.dz[i]! > 1e-6) index.push(i)
  if (index.length === 0) return rays
  const grown = (from: Float32Array, more: (i: number) => number) => {
    const to = new Float32Array(rays.count + index.length)
    to.set(from.subarray(0, rays.count))
    for (const [k, i] of index.entries()) to[rays.count + k] = more(i)
    return to
  }
  const along = (i: number) => (rays.zMm - segments.zMm[i]!) / segments.dz[i]!
  const batch = new Uint8Array(rays.count + index.length)
  batch.set(rays.batch.subarray(0, rays.count))
  for (const [k, i] of index.entries()) batch[rays.count + k] = segments.batch[i]!
  return {
    count: rays.count + index.length,
    zMm: rays.zMm,
    xMm: grown(rays.xMm, (i) => segments.xMm[i]! + along(i) * segments.dx[i]!),
    yMm: grown(rays.yMm, (i) => segments.yMm[i]! + along(i) * segments.dy[i]!),
    slopeX: grown(rays.slopeX, (i) => segments.dx[i]! / segments.dz[i]!),
    slopeY: grown(rays.slopeY, (i) => segments.dy[i]! / segments.dz[i]!),
    watts: grown(rays.watts, (i) => segments.watts[i]!),
    lumens: grown(rays.lumens, () => 0),
    batch,
    wattsOfOne: Math.max(rays.wattsOfOne, segments.wattsOfOne),
  }
}
