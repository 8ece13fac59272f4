// The lens, or whatever light meets first, against the tunnel's mouth: what it doesn't cover misses it.
import { elementsOf, isRectangle, isStraight, pieceHalves, type RowElement } from '../../lamp/assembly.ts'
import { fromFrame, rotationOf } from '../../lamp/body.ts'
import type { Lamp, Tunnel } from '../../lamp/schema.ts'
import { aboutSectionMm, acrossFlatsMm, sectionAt } from '../../lamp/section.ts'
import { elementWords } from '../../library/lensSystem.ts'
import type { Finding } from '../finding.ts'
import { mm, percent } from '../words.ts'

/** Points across the mouth, each way. */
const ACROSS = 96
/** Less than that is the grid's own coarseness. */
const LEAST = 0.002

export function smallLens(lamp: Lamp): Finding[] {
  const [first] = elementsOf(lamp)
  const { tunnel } = lamp
  if (!first || !tunnel) return []
  const missed = missedShare(first, tunnel)
  if (missed <= 0) return []
  const { round, xMm, yMm } = pieceHalves(first)
  const size = round || xMm === yMm ? mm(2 * xMm) : `${mm(2 * xMm)} × ${mm(2 * yMm)}`
  const mouth = isRectangle(tunnel) ? `${mm(tunnel.outMm)} × ${mm(tunnel.outHeightMm ?? 0)}` : mm(tunnel.outMm)
  const plainCase = isPlainCase(first, tunnel)
  const who = elementWords(first)
  return [
    {
      rule: 'lens-smaller-than-mouth',
      severity: 'warning',
      title: `${capital(who)} of ${size} ${plainCase ? `is smaller than the tunnel’s mouth of ${mouth}: up to` : `doesn’t cover the tunnel’s mouth of ${mouth}:`} ${percent(missed)} of the mouth lies outside it.`,
      why: 'Light from the rim of the mouth misses the lens: it is lost, dazzles to the side, or heats the lens holder.',
      cure: plainCase
        ? `Take a lens of at least ${mouth}, or narrow the tunnel’s mouth to ${size}.`
        : `Take a piece that covers ${mouth}, set it over the middle of the mouth, or narrow the mouth.`,
      place: { kind: 'part', part: 'lens' },
    },
  ]
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1)

/** A mouth with no corners that stand out of a lens as wide: judged by the two diameters. */
const isPlainCase = (first: RowElement, tunnel: Tunnel): boolean =>
  isStraight(first) && !isRectangle(tunnel) && first.aperture !== 'rectangle'

/** Share of the mouth's area that lies outside the piece, seen along the axis. */
function missedShare(first: RowElement, tunnel: Tunnel): number {
  if (isPlainCase(first, tunnel)) return 1 - Math.min(1, first.diameterMm / tunnel.outMm) ** 2
  const { round, xMm: halfX, yMm: halfY } = pieceHalves(first)
  const [xx, xy, nx, yx, yy, ny, zx, zy, nz] = rotationOf(first)
  const [x0, y0] = fromFrame(first, [0, 0, 0])
  const about = aboutSectionMm(tunnel, tunnel.zOutMm)
  const [w, h] = isRectangle(tunnel) ? [tunnel.outMm / 2, (tunnel.outHeightMm ?? tunnel.outMm) / 2] : [about, about]
  const apothem = isRectangle(tunnel) ? null : sectionAt(tunnel, tunnel.zOutMm).xMm
  let [inside, missed] = [0, 0]
  for (let i = 0; i < ACROSS; i++) {
    for (let j = 0; j < ACROSS; j++) {
      const [xMm, yMm] = [w * ((2 * i + 1) / ACROSS - 1), h * ((2 * j + 1) / ACROSS - 1)]
      if (apothem !== null && acrossFlatsMm(tunnel.sides, xMm, yMm) > apothem) continue
      inside++
      const [dx, dy] = [xMm - x0, yMm - y0]
      const dz = -(nx * dx + ny * dy) / nz
      const [u, v] = [xx * dx + yx * dy + zx * dz, xy * dx + yy * dy + zy * dz]
      if (round ? Math.hypot(u, v) > halfX : Math.abs(u) > halfX || Math.abs(v) > halfY) missed++
    }
  }
  const share = missed / inside
  return share > LEAST ? share : 0
}
