// The lens, or whatever light meets first, against the tunnel's mouth: what it doesn't cover misses it.
import { elementsOf, isRectangle, isStraight, pieceHalves, type RowElement } from '../../lamp/assembly.ts'
import { bareMouthShare } from '../../lamp/mouth.ts'
import type { Lamp, Tunnel } from '../../lamp/schema.ts'
import { elementWords } from '../../library/lensSystem.ts'
import type { Finding } from '../finding.ts'
import { mm, mmAtLeast, mmAtMost, percent } from '../words.ts'

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
        ? `Take a lens of at least ${mmAtLeast(tunnel.outMm)}, or narrow the tunnel’s mouth to ${mmAtMost(2 * xMm)}.`
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
  return bareMouthShare([first], tunnel)
}
