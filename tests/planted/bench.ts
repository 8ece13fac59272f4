// What the tests of the own tracer share: single rays, pieces as objects, places along a line.
import type { Lamp } from '../../src/lamp/schema.ts'
import type { Light } from './light.ts'
import { makeRandom } from './random.ts'
import { makeTracer, type Sink, type Tracer } from './tracer.ts'

export interface PieceRow {
  x: number
  y: number
  z: number
  dx: number
  dy: number
  dz: number
  length: number
  watts: number
}

/** The pieces of one ray: place on the disc by radius share r and azimuth, direction by (u, v) of the profile or the sun's disc. */
export function piecesOf(lamp: Lamp, light: Light, r: number, azimuth: number, u = 0, v = 0, w = 0.5): PieceRow[] {
  const rows: PieceRow[] = []
  const piece: Sink['piece'] = (x, y, z, dx, dy, dz, length, watts) => rows.push({ x, y, z, dx, dy, dz, length, watts })
  makeTracer(lamp, light).trace(0, [r * r, azimuth, u, v, w], 1, makeRandom(1), { piece })
  return rows
}

/** z where a meridional ray crosses the axis. */
export const crossesAxis = ({ x, z, dx, dz }: PieceRow): number => z - (x * dz) / dx

/** Shares of the source's watts by where they end. */
export function ledgerOf(lamp: Lamp, light: Light, rays: number, seed = 1): Map<string, number> {
  const shares = new Map<string, number>()
  const tracer = makeTracer(lamp, light)
  const total = tracer.watts.reduce((a, b) => a + b, 0)
  runEvenly(tracer, rays, seed, {
    piece() {},
    ends(fate, watts) {
      shares.set(fate, (shares.get(fate) ?? 0) + watts / total)
    },
  })
  return shares
}

/** Plain random rays, parts in proportion to their watts. */
function runEvenly(tracer: Tracer, rays: number, seed: number, sink: Sink): void {
  const random = makeRandom(seed)
  const total = tracer.watts.reduce((a, b) => a + b, 0)
  const u = new Float64Array(5)
  for (let i = 0; i < rays; i++) {
    let part = 0
    for (let left = random() * total; part < tracer.watts.length - 1 && left >= tracer.watts[part]!; part++)
      left -= tracer.watts[part]!
    for (let d = 0; d < 5; d++) u[d] = random()
    tracer.trace(part, u, total / rays, random, sink)
  }
}
