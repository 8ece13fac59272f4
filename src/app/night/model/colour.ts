// Colour of the beam: the sum of the emitters' spectra as a tint for a screen with D65 white.
import { solveOperatingPoint } from '../../../heat/operating.ts'
import type { Sheet } from '../../../job/beam/sheet.ts'
import type { Lamp } from '../../../lamp/schema.ts'
import { type Chromaticity, chromaticity, correlatedColourK } from '../../../library/colour.ts'
import { emittedColour } from '../../../library/emittedColour.ts'
import { blackBodyPower } from '../../../library/spectra.ts'
import { linear } from '../../../num/interpolate.ts'
import type { Triple } from './scene.ts'

/** Luminance of linear sRGB (IEC 61966-2-1). */
export const LUMINANCE: Triple = [0.2126, 0.7152, 0.0722]
export const luminanceOfRgb = ([r, g, b]: Triple) => LUMINANCE[0] * r + LUMINANCE[1] * g + LUMINANCE[2] * b

const D65: Chromaticity = { x: 0.3127, y: 0.329 }

/** Linear sRGB of that colour at luminance 1; a colour outside the gamut is desaturated towards white until it fits. */
export function tintOf({ x, y }: Chromaticity): Triple {
  const [X, Z] = [x / y, (1 - x - y) / y]
  // XYZ to linear sRGB, IEC 61966-2-1.
  const rgb = [
    3.2406 * X - 1.5372 - 0.4986 * Z,
    -0.9689 * X + 1.8758 + 0.0415 * Z,
    0.0557 * X - 0.204 + 1.057 * Z,
  ] as const
  const least = Math.min(...rgb)
  const share = least < 0 ? -least / (1 - least) : 0
  const tint = rgb.map((c) => c + share * (1 - c)) as [number, number, number]
  const scale = 1 / luminanceOfRgb(tint)
  return [tint[0] * scale, tint[1] * scale, tint[2] * scale]
}

let last: { of: readonly unknown[]; colour: Chromaticity } | null = null

/** Chromaticity of all emitters together: from the sheet, or before there is one from their currents. D65 for a lamp without light. */
export function lightColour(lamp: Lamp, sheet: Pick<Sheet, 'emittedColour'> | null): Chromaticity {
  if (sheet) return sheet.emittedColour ?? D65
  const of = [lamp.emitterTypes, lamp.boardTypes, lamp.boards, lamp.heat]
  if (!last?.of.every((part, i) => part === of[i]))
    last = { of, colour: emittedColour(lamp, solveOperatingPoint(lamp).fluxLm) ?? D65 }
  return last.colour
}

/** Rings of colour from the inside out; the last one extends outwards. */
export interface ColourRings {
  thetaDeg: ArrayLike<number>
  x: ArrayLike<number>
  y: ArrayLike<number>
}

type Coloured = { beamColour?: ColourRings | null; emittedColour: Chromaticity | null }

/** Tint over the angle from the axis: the traced rings, smoothed against noise, or without rings the emitters' own. */
export function tintOver({ beamColour: rings, emittedColour: own }: Coloured): (thetaDeg: number) => Triple {
  if (!rings || rings.thetaDeg.length < 2) {
    const tint = tintOf(own ?? D65)
    return () => tint
  }
  const n = rings.thetaDeg.length
  const smooth = (of: ArrayLike<number>, i: number) =>
    (of[Math.max(0, i - 1)]! + 2 * of[i]! + of[Math.min(n - 1, i + 1)]!) / 4
  const tints = Array.from({ length: n }, (_, i) => tintOf({ x: smooth(rings.x, i), y: smooth(rings.y, i) }))
  const part = [0, 1, 2].map((k) => tints.map((t) => t[k]!))
  return (thetaDeg) => [
    linear(rings.thetaDeg, part[0]!, thetaDeg),
    linear(rings.thetaDeg, part[1]!, thetaDeg),
    linear(rings.thetaDeg, part[2]!, thetaDeg),
  ]
}

/** The colours of the beam's middle and edge as text; null where they can't be distinguished. */
export function ringWords(rings: ColourRings | null, edgeDeg: number): string | null {
  if (!rings || rings.thetaDeg.length < 2) return null
  const at = (deg: number) => ({ x: linear(rings.thetaDeg, rings.x, deg), y: linear(rings.thetaDeg, rings.y, deg) })
  const [middle, edge] = [at(0), at(edgeDeg)]
  const [a, b] = [uv(middle), uv(edge)]
  // 0.005 in u, v: about five just noticeable steps (memory), and above the noise of a ring.
  if (Math.hypot(a.u - b.u, a.v - b.v) < 0.005) return null
  return `${colourWords(middle)} in the middle, ${colourWords(edge)} at the edge`
}

/** CIE 1960 u, v. */
const uv = ({ x, y }: Chromaticity) => ({ u: (4 * x) / (-2 * x + 12 * y + 3), v: (6 * y) / (-2 * x + 12 * y + 3) })

/** "about 5000 K", or the chromaticity coordinates of a colour that is not white. */
export function colourWords(c: Chromaticity): string {
  const k = correlatedColourK(c)
  if (k > 1800 && k < 25_000) {
    const black = uv(chromaticity(blackBodyPower(k)))
    const here = uv(c)
    // CIE 15 gives a correlated colour temperature no meaning farther than 0.05 from the black body.
    if (Math.hypot(here.u - black.u, here.v - black.v) < 0.05) return `${Math.round(k / 50) * 50} K`
  }
  return `x ${c.x.toFixed(3)}, y ${c.y.toFixed(3)}`
}
