// The most that any lens and any mirrors can make of the sun, whichever side it comes from: a bound until sunlight is traced.
import { elementsOf, isRectangle, pieceHalves, stretchesOf } from '../lamp/assembly.ts'
import type { Lamp, Tunnel } from '../lamp/schema.ts'
import { middleOfSun } from '../library/sunDisc.ts'
import { concentrationLimit } from './sun.ts'
import { mirrorShare } from './tunnelSun.ts'

interface Opening {
  areaMm2: number
  /** Its longest way across. */
  acrossMm: number
  zMm: number
}

function mouthOf(tunnel: Tunnel): Opening {
  const { sides, outMm, zOutMm: zMm } = tunnel
  const highMm = isRectangle(tunnel) ? (tunnel.outHeightMm ?? outMm) : outMm
  if (isRectangle(tunnel)) return { areaMm2: outMm * highMm, acrossMm: Math.hypot(outMm, highMm), zMm }
  if (sides === 0) return { areaMm2: (Math.PI / 4) * outMm ** 2, acrossMm: outMm, zMm }
  const half = Math.PI / sides
  return { areaMm2: (sides / 4) * outMm ** 2 * Math.tan(half), acrossMm: outMm / Math.cos(half), zMm }
}

function openingsOf(lamp: Lamp): Opening[] {
  const pieces = elementsOf(lamp).map((piece): Opening => {
    const { round, xMm, yMm } = pieceHalves(piece)
    const acrossMm = round ? 2 * xMm : 2 * Math.hypot(xMm, yMm)
    return { areaMm2: (round ? Math.PI : 4) * xMm * yMm, acrossMm, zMm: piece.zMm }
  })
  return lamp.tunnel ? [...pieces, mouthOf(lamp.tunnel)] : pieces
}

/**
 * The greatest area, square to the sun, over which sunlight can come in by the pieces in front or the tunnel's mouth, mm², from whichever side.
 * No more than all of them together, nor than the shadow of a row as long as theirs, √(A² + (L·D)²), the greatest A cos θ + L D sin θ: A the
 * largest of them, D its longest way across, L from the first to the last. 0 without any. Geometry.
 */
export function openingMm2(lamp: Lamp): number {
  const openings = openingsOf(lamp)
  if (openings.length === 0) return 0
  const most = (of: (o: Opening) => number) => Math.max(...openings.map(of))
  const longMm = most((o) => o.zMm) + most((o) => -o.zMm)
  const shadow = Math.hypot(
    most((o) => o.areaMm2),
    longMm * most((o) => o.acrossMm),
  )
  return Math.min(
    shadow,
    openings.reduce((sum, o) => sum + o.areaMm2, 0),
  )
}

/**
 * The most that lenses and perfect mirrors can make of the sun over a disc (mm): all the light of an area (mm²) on it, and no more than if the disc saw
 * nothing but the sun's bright middle. Losses are left out: the hot side. Conservation of energy, and of étendue (Winston and Welford).
 */
export const mostConcentration = (areaMm2: number, discMm: number): number =>
  Math.min(areaMm2 / ((Math.PI / 4) * discMm ** 2), concentrationLimit(1) * middleOfSun(0))

/** What share of the light its best stretch throws on as a mirror, at the best wavelength; 0 without a tunnel. */
export const mirrorShareOf = (tunnel: Tunnel | null): number =>
  tunnel ? Math.max(...stretchesOf(tunnel).map(mirrorShare)) : 0
