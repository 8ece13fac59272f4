// The tunnel's mouth and what stands before it.
import { isRectangle } from './assembly.ts'
import { surfaceZ } from './body.ts'
import type { Element, Lens, Tunnel } from './schema.ts'
import { aboutSectionMm, acrossFlatsMm, sectionAt } from './section.ts'

/** Points across the mouth, each way. */
const ACROSS = 96
/** Less than that is the grid's own coarseness. */
const LEAST = 0.002

/** Share of the mouth's area over which, seen along the axis, none of the pieces stands. */
export function bareMouthShare(pieces: readonly (Element | Lens)[], tunnel: Tunnel): number {
  const about = aboutSectionMm(tunnel, tunnel.zOutMm)
  const [w, h] = isRectangle(tunnel) ? [tunnel.outMm / 2, (tunnel.outHeightMm ?? tunnel.outMm) / 2] : [about, about]
  const apothem = isRectangle(tunnel) ? null : sectionAt(tunnel, tunnel.zOutMm).xMm
  let [inside, missed] = [0, 0]
  for (let i = 0; i < ACROSS; i++) {
    for (let j = 0; j < ACROSS; j++) {
      const [xMm, yMm] = [w * ((2 * i + 1) / ACROSS - 1), h * ((2 * j + 1) / ACROSS - 1)]
      if (apothem !== null && acrossFlatsMm(tunnel.sides, xMm, yMm) > apothem) continue
      inside++
      if (pieces.every((piece) => surfaceZ(piece, xMm, yMm, 0) === null)) missed++
    }
  }
  const share = missed / inside
  return share > LEAST ? share : 0
}
