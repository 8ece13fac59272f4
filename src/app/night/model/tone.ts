// Tone mapping from luminance to screen: the eye's response or a camera's exposure. The shader nightTone.glsl has the same two curves.
import { luminanceOfRgb } from './colour.ts'
import type { Triple } from './scene.ts'

/** Luminance of a matt surface, cd/m². */
export const luminanceOf = (lx: number, reflectance: number) => (lx * reflectance) / Math.PI

/** The exposure: the eye's adaptation luminance, or the luminance that a camera shows as white. */
export type Exposure = { kind: 'eye'; adaptedCdM2: number } | { kind: 'camera'; whiteCdM2: number }

/**
 * Lower limit of adaptation beside a lit beam: about 0.003 cd/m², low in the mesopic range (memory). Fully dark-adapted eyes go
 * lower, but nobody beside a lit lamp has them.
 */
export const DARKEST_ADAPTATION = 0.003
export const BRIGHTEST_ADAPTATION = 3000

/** The eye adapts to the mean of the target that it looks at. */
export const adaptationTo = (meanCdM2: number) => Math.min(BRIGHTEST_ADAPTATION, Math.max(DARKEST_ADAPTATION, meanCdM2))

/** Exponent of the receptor response R = Lⁿ / (Lⁿ + σⁿ): Naka & Rushton, J. Physiol. 185 (1966) 536; n about 0.73 (Boynton & Whitten, Science 170 (1970) 1423); both from memory. */
export const EYE_EXPONENT = 0.73
/** Half response at this multiple of the adaptation level. Our choice: the target's mean is shown at half the screen's range. */
export const EYE_HALF = 1

/** Share of the screen's range, already encoded. */
export function eyeLevel(cdM2: number, adaptedCdM2: number): number {
  const l = Math.max(0, cdM2) ** EYE_EXPONENT
  return l / (l + (EYE_HALF * adaptedCdM2) ** EYE_EXPONENT)
}

/** The eye sees full colour above 5 cd/m² and none under 0.005 (the mesopic range of CIE 191:2010); even steps between in the logarithm are our choice. */
export const MESOPIC = { from: 0.005, to: 5 } as const

export function colourSeen(cdM2: number): number {
  const t = Math.log(Math.max(cdM2, 1e-9) / MESOPIC.from) / Math.log(MESOPIC.to / MESOPIC.from)
  return Math.min(1, Math.max(0, t))
}

/** White of a camera at EV (ISO 100): 1.2 · 2^EV cd/m², from the saturation-based speed of ISO 12232 with q = 0.65 (memory). */
export const cameraWhite = (ev: number) => 1.2 * 2 ** ev

/** IEC 61966-2-1 curve; clipped at white. */
export function encoded(share: number): number {
  const v = Math.min(1, Math.max(0, share))
  return v <= 0.0031308 ? 12.92 * v : 1.055 * v ** (1 / 2.4) - 0.055
}
export const decoded = (code: number) => (code <= 0.04045 ? code / 12.92 : ((code + 0.055) / 1.055) ** 2.4)

export const cameraLevel = (cdM2: number, ev: number) => encoded(cdM2 / cameraWhite(ev))

/** Encoded screen colour, 0 to 1, of a light given as linear RGB in cd/m². */
export function toScreen(rgb: Triple, exposure: Exposure): Triple {
  if (exposure.kind === 'camera') {
    const share = (c: number) => encoded(c / exposure.whiteCdM2)
    return [share(rgb[0]), share(rgb[1]), share(rgb[2])]
  }
  const cdM2 = luminanceOfRgb(rgb)
  const level = eyeLevel(cdM2, exposure.adaptedCdM2)
  // Each channel responds on its own, so that a far too bright light turns white.
  const share = colourSeen(cdM2)
  const part = (c: number) => level + share * (eyeLevel(c, exposure.adaptedCdM2) - level)
  return [part(rgb[0]), part(rgb[1]), part(rgb[2])]
}

/** The EV, in halves, that puts the mean of the target at about a quarter of white. */
export const sensibleEv = (meanCdM2: number) =>
  Math.min(16, Math.max(-10, Math.round(2 * Math.log2((4 * Math.max(1e-6, meanCdM2)) / 1.2)) / 2))

export const APERTURE = 2.8
const ISO_STEPS = [100, 200, 400, 800, 1600, 3200, 6400, 12_800]

/**
 * The exposure as camera settings: N²/t = 2^EV · ISO/100 (ISO 2720), at f/2.8, with the lowest ISO step that allows a hand-held
 * exposure (1/30 s; common practice, no source), else the highest.
 */
export function cameraSettings(ev: number): { iso: number; seconds: number; words: string } {
  const time = (iso: number) => (APERTURE * APERTURE) / (2 ** ev * (iso / 100))
  const iso = ISO_STEPS.find((step) => time(step) <= 1 / 29) ?? ISO_STEPS.at(-1)!
  const seconds = time(iso)
  const shown = seconds < 0.4 ? `1/${roundTwo(1 / seconds)} s` : `${roundTwo(seconds)} s`
  return { iso, seconds, words: `ISO ${iso}, ${shown}` }
}

const roundTwo = (x: number) => String(Number(x.toPrecision(2)))
