// From luminance to screen: the eye's response or a camera's exposure. The shader night.frag.glsl carries the same two laws.

/** Diffuse reflectances assumed; nothing in the document says what the target is painted with. */
export const WALL_REFLECTANCE = 0.5
export const GROUND_REFLECTANCE = 0.2

/** Luminance of a matt surface, cd/m². */
export const luminanceOf = (lx: number, reflectance: number) => (lx * reflectance) / Math.PI

/**
 * Darkest state the eye is taken to reach beside a lit beam: about 0.003 cd/m², low in the mesopic range (memory). Fully
 * dark-adapted eyes see less light than that, but nobody who works a lamp has them.
 */
export const DARKEST_ADAPTATION = 0.003

/** The eye settles on the mean of the target it looks at. */
export const adaptationTo = (meanCdM2: number) => Math.max(DARKEST_ADAPTATION, meanCdM2)

/** Exponent of the receptor response R = Lⁿ / (Lⁿ + σⁿ): Naka & Rushton, J. Physiol. 185 (1966) 536; n about 0.73 (Boynton & Whitten, Science 170 (1970) 1423); both from memory. */
export const EYE_EXPONENT = 0.73
/** Half response at this multiple of the adaptation level: a choice, the mean of the target is shown at half the screen's range. */
export const EYE_HALF = 1

/** Share of the screen's range (already as sent to the screen). */
export function eyeLevel(cdM2: number, adaptedCdM2: number): number {
  const l = Math.max(0, cdM2) ** EYE_EXPONENT
  return l / (l + (EYE_HALF * adaptedCdM2) ** EYE_EXPONENT)
}

/** White of a camera at EV (ISO 100): 1.2 · 2^EV cd/m², from the saturation-based speed of ISO 12232 with q = 0.65 (memory). */
export const cameraWhite = (ev: number) => 1.2 * 2 ** ev

/** Straight up to white, then clipped; IEC 61966-2-1 curve. */
export function cameraLevel(cdM2: number, ev: number): number {
  const linear = Math.min(1, Math.max(0, cdM2) / cameraWhite(ev))
  return linear <= 0.0031308 ? 12.92 * linear : 1.055 * linear ** (1 / 2.4) - 0.055
}

/** The EV, in halves, that puts the mean of the target at about a quarter of white. */
export const sensibleEv = (meanCdM2: number) =>
  Math.min(16, Math.max(-10, Math.round(2 * Math.log2((4 * Math.max(1e-6, meanCdM2)) / 1.2)) / 2))

/** What such an illuminance is like (memory; common experience). */
export function likeLux(lx: number): string {
  if (lx < 0.001) return 'darker than starlight'
  if (lx < 0.02) return 'like a moonless clear night'
  if (lx < 0.12) return 'like a half moon'
  if (lx < 0.5) return 'like a full moon'
  if (lx < 5) return 'like deep dusk'
  if (lx < 30) return 'like a lit street'
  if (lx < 250) return 'like a living room'
  if (lx < 1500) return 'like an office'
  if (lx < 20_000) return 'like an overcast day'
  return 'like sunlight'
}
