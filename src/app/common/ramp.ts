// The colour ramp of every map, from the background through deep red-brown and amber to near white. OKLab lightness is linear in the
// value, so that equal steps of value look equal.
// Own code, because d3-interpolate mixes in Lab and HCL, not in OKLab with even lightness.
// OKLab matrices: B. Ottosson, "A perceptual color space for image processing", 2020.

type Triple = readonly [number, number, number]

const STOPS = ['#182024', '#44251b', '#96482a', '#e08a3c', '#fdc787', '#fdf7eb'] as const
export const RAMP_SIZE = 256

const toLinear = (c: number): number => (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4)
const fromLinear = (c: number): number => (c <= 0.0031308 ? 12.92 * c : 1.055 * c ** (1 / 2.4) - 0.055)

export function oklabFromHex(hex: string): Triple {
  const channel = (at: number) => toLinear(Number.parseInt(hex.slice(at, at + 2), 16) / 255)
  return oklabFromLinear([channel(1), channel(3), channel(5)])
}

export function oklabFromLinear([r, g, b]: Triple): Triple {
  const l = Math.cbrt(0.4122214708 * r + 0.5363325363 * g + 0.0514459929 * b)
  const m = Math.cbrt(0.2119034982 * r + 0.6806995451 * g + 0.1073969566 * b)
  const s = Math.cbrt(0.0883024619 * r + 0.2817188376 * g + 0.6299787005 * b)
  return [
    0.2104542553 * l + 0.793617785 * m - 0.0040720468 * s,
    1.9779984951 * l - 2.428592205 * m + 0.4505937099 * s,
    0.0259040371 * l + 0.7827717662 * m - 0.808675766 * s,
  ]
}

export function linearFromOklab([L, a, b]: Triple): Triple {
  const l = (L + 0.3963377774 * a + 0.2158037573 * b) ** 3
  const m = (L - 0.1055613458 * a - 0.0638541728 * b) ** 3
  const s = (L - 0.0894841775 * a - 1.291485548 * b) ** 3
  return [
    4.0767416621 * l - 3.3077115913 * m + 0.2309699292 * s,
    -1.2684380046 * l + 2.6097574011 * m - 0.3413193965 * s,
    -0.0041960863 * l - 0.7034186147 * m + 1.707614701 * s,
  ]
}

const stops = STOPS.map(oklabFromHex)

/** OKLab colour at t in 0..1: linear lightness, with hue and chroma of the stops at that lightness. */
export function rampOklab(t: number): Triple {
  const first = stops[0]!
  const last = stops[stops.length - 1]!
  const L = first[0] + Math.min(1, Math.max(0, t)) * (last[0] - first[0])
  let i = 1
  while (i < stops.length - 1 && stops[i]![0] < L) i++
  const [low, high] = [stops[i - 1]!, stops[i]!]
  const u = (L - low[0]) / (high[0] - low[0])
  return [L, low[1] + u * (high[1] - low[1]), low[2] + u * (high[2] - low[2])]
}

/** 256 × 3 bytes of sRGB. */
export const RAMP: Uint8ClampedArray = rampTable()

function rampTable(): Uint8ClampedArray {
  const table = new Uint8ClampedArray(RAMP_SIZE * 3)
  for (let i = 0; i < RAMP_SIZE; i++) {
    const linear = linearFromOklab(rampOklab(i / (RAMP_SIZE - 1)))
    for (let c = 0; c < 3; c++) table[3 * i + c] = 255 * fromLinear(Math.min(1, Math.max(0, linear[c]!)))
  }
  return table
}

/** On light ground the ramp runs the other way: the most is darkest. */
export const rampOn = (theme: 'dark' | 'light', t: number): string => rampCss(theme === 'light' ? 1 - t : t)

export function rampCss(t: number): string {
  const i = Math.round(Math.min(1, Math.max(0, t)) * (RAMP_SIZE - 1)) * 3
  return `rgb(${RAMP[i]} ${RAMP[i + 1]} ${RAMP[i + 2]})`
}
