// Lamps whose beam is known in closed form: one emitter on a black face, with or without an ideal lens.

import type { BeamFigure } from '../../src/beam/beam.ts'
import type { Lamp, Profile } from '../../src/lamp/schema.ts'
import { LAMBERTIAN, oneEmitter } from './traceHere.ts'

const RAD = Math.PI / 180
const DEG = 180 / Math.PI
const FLUX_LM = 1000

export interface CleanLamp {
  name: string
  lamp: Lamp
  truth: Partial<Record<BeamFigure, number>>
  /** No figure is further off, as a share of its value; of a spill, of all the light. */
  mostError: number
  /** The azimuth mean falls through half of the peak, rises again, and falls for good further out. */
  patterned?: boolean
}

/** Mean of `shape` over a small cone about θ, rad: spherical law of cosines; midpoints of 20 rings of equal solid angle by 40 azimuths. */
const smoothed = (shape: (theta: number) => number, cone: number) => (theta: number) => {
  let sum = 0
  for (let i = 0; i < 20; i++) {
    const r = cone * Math.sqrt((i + 0.5) / 20)
    for (let k = 0; k < 40; k++) {
      const phi = ((k + 0.5) * Math.PI) / 40
      const cos = Math.cos(theta) * Math.cos(r) + Math.sin(theta) * Math.sin(r) * Math.cos(phi)
      // The half angle keeps the digits.
      const sin2 = Math.sin((theta - r) / 2) ** 2 + Math.sin(theta) * Math.sin(r) * Math.sin(phi / 2) ** 2
      sum += shape(theta < 0.1 ? 2 * Math.asin(Math.sqrt(sin2)) : Math.acos(Math.max(-1, cos)))
    }
  }
  return sum / 800
}

/**
 * By Simpson's rule: half angles (rad) and shares of a beam of intensity `shape(θ)`, 1 at its peak on the axis, dark beyond `end`. Axis, peak
 * and angles are of the profile smoothed with the axial cone, as the model defines them.
 */
function beamOf(shape: (theta: number) => number, end: number, coneDeg: number) {
  const N = 20_000
  const smooth = smoothed(shape, coneDeg * RAD)
  const onAxis = smooth(0)
  const upTo = new Float64Array(N + 1)
  const f = (t: number) => shape(t) * Math.sin(t)
  for (let i = 1; i <= N; i++) {
    const [a, b] = [((i - 1) * end) / N, (i * end) / N]
    upTo[i] = upTo[i - 1]! + ((b - a) / 6) * (f(a) + 4 * f((a + b) / 2) + f(b))
  }
  const all = upTo[N]!
  const inside = (half: number) => {
    const at = Math.min(N, (half / end) * N)
    const i = Math.min(N - 1, Math.floor(at))
    return (upTo[i]! + (at - i) * (upTo[i + 1]! - upTo[i]!)) / all
  }
  const where = (wanted: (theta: number) => number) => {
    let [low, high] = [0, end]
    for (let k = 0; k < 60; k++) {
      const mid = (low + high) / 2
      if (wanted(mid) > 0) low = mid
      else high = mid
    }
    return low
  }
  const peakCd = FLUX_LM / (2 * Math.PI * all)
  const beam = where((t) => smooth(t) - 0.5 * onAxis)
  const field = where((t) => smooth(t) - 0.1 * onAxis)
  return {
    axialIntensityCd: peakCd * onAxis,
    peakIntensityCd: peakCd * onAxis,
    beamAngleDeg: 2 * DEG * beam,
    fieldAngleDeg: 2 * DEG * field,
    halfFluxAngleDeg: 2 * DEG * where((t) => 0.5 - inside(t)),
    spillOutsideBeam: 1 - inside(beam),
    spillOutsideField: 1 - inside(field),
  }
}

const of = (name: string, profile: Profile, truth: CleanLamp['truth'], axialConeHalfDeg: number): CleanLamp => ({
  name,
  lamp: oneEmitter({ profile, fluxLm: FLUX_LM, axialConeHalfDeg }),
  truth,
  mostError: 0.002,
})

const gaussian = (fwhmDeg: number): CleanLamp => {
  const w = fwhmDeg * RAD
  const cone = Math.min(0.25, fwhmDeg / 50)
  const shape = (t: number) => Math.exp(-4 * Math.LN2 * (t / w) ** 2)
  return of(
    `Gaussian of ${fwhmDeg}°`,
    { kind: 'gaussian', fwhmDeg },
    beamOf(shape, Math.min(Math.PI / 2, 6 * w), cone),
    cone,
  )
}

/** A narrow beam that holds a hundredth of the light of the broad one about it: 30 times as bright. */
function spotInFlood(): CleanLamp {
  // Fine steps: tables are linear in θ, those of the tracer in 1 − cosθ, which parts them by step² / 8θ.
  const thetaDeg = Array.from({ length: 271 }, (_, i) => (i <= 240 ? i / 80 : 3 + ((i - 240) * 87) / 30))
  const at = (deg: number) => Math.exp(-4 * Math.LN2 * (deg / 1.5) ** 2) + 0.03 * Math.cos(Math.min(90, deg) * RAD)
  const intensity = thetaDeg.map(at)
  const shape = (t: number) => {
    const deg = t * DEG
    const j = Math.max(0, thetaDeg.findIndex((d) => d >= deg) - 1)
    const s = (deg - thetaDeg[j]!) / (thetaDeg[j + 1]! - thetaDeg[j]!)
    return (intensity[j]! + s * (intensity[j + 1]! - intensity[j]!)) / intensity[0]!
  }
  const profile: Profile = { kind: 'table', thetaDeg, intensity }
  // Hardly a hundredth of the rays goes into the spot.
  return { ...of('Spot of 1.5° in a flood', profile, beamOf(shape, Math.PI / 2, 0.03), 0.03), mostError: 0.01 }
}

/** Even to 5°, dark beyond: the middle of the edge is where half of the cone lies inside; 10 % where a tenth does. */
function topHat(): CleanLamp {
  const profile: Profile = { kind: 'table', thetaDeg: [0, 5, 5.0001], intensity: [1, 1, 0] }
  return of('Top hat of 10°', profile, hatOf(5 * RAD, 0.1 * RAD), 0.1)
}

/** Even from 3° to 5°, dark inside and outside of it: its outer edge is the top hat's. */
function ring(): CleanLamp {
  const [from, to] = [3 * RAD, 5 * RAD]
  const profile: Profile = { kind: 'table', thetaDeg: [0, 3, 3.0001, 5, 5.0001], intensity: [0, 0, 1, 1, 0] }
  const { beamAngleDeg, fieldAngleDeg } = hatOf(to, 0.1 * RAD) as Required<CleanLamp['truth']>
  const outside = (deg: number) =>
    Math.max(0, (Math.cos((deg * RAD) / 2) - Math.cos(to)) / (Math.cos(from) - Math.cos(to)))
  const truth = {
    peakIntensityCd: FLUX_LM / (2 * Math.PI * (Math.cos(from) - Math.cos(to))),
    ...{ beamAngleDeg, fieldAngleDeg },
    halfFluxAngleDeg: 2 * DEG * Math.acos((Math.cos(from) + Math.cos(to)) / 2),
    spillOutsideBeam: outside(beamAngleDeg),
    spillOutsideField: outside(fieldAngleDeg),
  }
  return { ...of('Ring of 6° to 10°', profile, truth, 0.1), mostError: 0.02, patterned: true }
}

function hatOf(edge: number, cone: number): CleanLamp['truth'] {
  const sharp = beamOf((t) => (t <= edge ? 1 : 0), edge, 0.01)
  /** Share of a small disc of radius `cone` at θ that lies inside a large one: the common area of two circles. */
  const covered = (d: number) => {
    if (d <= edge - cone) return 1
    if (d >= edge + cone) return 0
    const a = Math.acos((d * d + cone * cone - edge * edge) / (2 * d * cone))
    const b = Math.acos((d * d + edge * edge - cone * cone) / (2 * d * edge))
    return (cone * cone * (a - Math.sin(2 * a) / 2) + edge * edge * (b - Math.sin(2 * b) / 2)) / (Math.PI * cone * cone)
  }
  const where = (level: number) => {
    let [low, high] = [edge - cone, edge + cone]
    for (let k = 0; k < 60; k++) {
      const mid = (low + high) / 2
      if (covered(mid) > level) low = mid
      else high = mid
    }
    return low
  }
  const inside = (half: number) => Math.min(1, Math.sin(half / 2) ** 2 / Math.sin(edge / 2) ** 2)
  const [beam, field] = [where(0.5), where(0.1)]
  return {
    ...sharp,
    beamAngleDeg: 2 * DEG * beam,
    fieldAngleDeg: 2 * DEG * field,
    spillOutsideBeam: 1 - inside(beam),
    spillOutsideField: 1 - inside(field),
  }
}

/** A disc of 4 mm in the focal plane of an ideal lens: its picture is a disc of tan θ = 2/100. */
function pictureOfDisc(): CleanLamp {
  const lens = { kind: 'ideal', zMm: 100, focalMm: 100, diameterMm: 60 } as const
  const lamp = oneEmitter({ source: { shape: 'disc', diameterMm: 4 }, lens, fluxLm: FLUX_LM, axialConeHalfDeg: 0.05 })
  const hat = hatOf(Math.atan(2 / 100), 0.05 * RAD)
  // Only what the lens takes up leaves as the picture; the rest goes past it.
  return {
    name: 'Picture of a disc',
    mostError: 0.02,
    lamp,
    truth: { beamAngleDeg: hat.beamAngleDeg!, fieldAngleDeg: hat.fieldAngleDeg! },
  }
}

/**
 * Two discs of 4 mm, 4.8 mm apart, in the focal plane of an ideal lens. In tan θ the picture is two discs of radius ρ = 2/100 about ± a = 2.4/100: a
 * circle about the axis lies in each of them with acos((t² + a² − ρ²)/2ta)/π of its length (law of cosines). A lens that takes a share F of a
 * disc's light Φ throws it over A/f² of the plane of tan θ: I = Φ F f²/(A cos³θ) everywhere in the picture. F from a place r off the axis to a
 * disc of radius R at f: ½ − ½ (f² + r² − R²)/√((f² + r² + R²)² − 4R²r²), J. R. Howell, A Catalog of Radiation Heat Transfer Configuration
 * Factors, B-12; from memory.
 */
function pictureOfTwoDiscs(): CleanLamp {
  // At that width of the lens F/cos³θ is even over the picture, to 2e-5.
  const [focalMm, radiusMm, discMm, offMm, coneDeg] = [100, 40, 2, 2.4, 0.05]
  const lamp = oneEmitter({
    source: { shape: 'disc', diameterMm: 2 * discMm },
    sites: [-offMm, offMm].map((xMm) => ({ xMm, yMm: 0 })),
    lens: { kind: 'ideal', zMm: focalMm, focalMm, diameterMm: 2 * radiusMm },
    ...{ fluxLm: FLUX_LM, axialConeHalfDeg: coneDeg },
  })
  const [a, rho] = [offMm / focalMm, discMm / focalMm]
  const share = (theta: number) => {
    const t = Math.tan(theta)
    if (t < a - rho || t > a + rho) return 0
    return (2 / Math.PI) * Math.acos(Math.min(1, (t * t + a * a - rho * rho) / (2 * t * a)))
  }
  const smooth = smoothed(share, coneDeg * RAD)
  const where = (level: number) => {
    let [low, high] = [Math.atan(a), Math.atan(a + rho) + coneDeg * RAD]
    for (let k = 0; k < 60; k++) {
      const mid = (low + high) / 2
      if (smooth(mid) > level) low = mid
      else high = mid
    }
    return low
  }
  const sum = focalMm ** 2 + offMm ** 2 + radiusMm ** 2
  const taken = 0.5 - (0.5 * (sum - 2 * radiusMm ** 2)) / Math.sqrt(sum ** 2 - 4 * radiusMm ** 2 * offMm ** 2)
  const peakIntensityCd = (FLUX_LM * taken * focalMm ** 2) / (Math.PI * discMm ** 2) / Math.cos(Math.atan(a)) ** 3
  return {
    name: 'Picture of two discs',
    mostError: 0.03,
    patterned: true,
    lamp,
    truth: { peakIntensityCd, beamAngleDeg: 2 * DEG * where(0.5), fieldAngleDeg: 2 * DEG * where(0.1) },
  }
}

export const CLEAN_LAMPS: CleanLamp[] = [
  of(
    'Lambertian',
    LAMBERTIAN,
    beamOf((t) => Math.max(0, Math.cos(t)), Math.PI / 2, 0.25),
    0.25,
  ),
  ...[20, 5, 2, 1, 0.5].map(gaussian),
  spotInFlood(),
  topHat(),
  ring(),
  pictureOfDisc(),
  pictureOfTwoDiscs(),
]
