// How the plate warms: one step of time for plate and fins together. Two implicit stages with the same matrix
// (Alexander, SIAM J. Numer. Anal. 14 (1977) 1006–1021: L-stable, second order, γ = 1 − 1/√2). Each cell has its fins
// as one store of heat in proportion to its area; they are eliminated cell by cell. Conductances to the air are
// constant within a step, at the temperature expected at its middle.
import type { Plate } from './plate.ts'

/** Conductances by the plate's area, W/m²K, and what the fins store, J/m²K. */
export interface ArealConductances {
  base: number
  link: number
  fin: number
  finStored: number
}

export interface PlateTemperatures {
  plateC: Float64Array
  finC: Float64Array
}

export interface StepResult {
  temperatures: PlateTemperatures
  /** J into plate and fins in this step. */
  storedJ: number
  /** J to the air in this step. */
  lostJ: number
}

/** γ of the two-stage rule, 1 − 1/√2 (Alexander 1977). */
const GAMMA = 1 - Math.SQRT1_2

/** Plate and fins at one temperature, °C. */
export const makeEvenTemperatures = (plate: Plate, celsius: number): PlateTemperatures => ({
  plateC: new Float64Array(plate.areaM2.length).fill(celsius),
  finC: new Float64Array(plate.areaM2.length).fill(celsius),
})

/**
 * The diagonal shift, W/m²K, that a step of `seconds` > 0 needs; `plateStored` in J/m²K. From the implicit stage with
 * the fins eliminated (derived).
 */
export function shiftOf(plateStored: number, s: ArealConductances, seconds: number): number {
  const rate = 1 / (GAMMA * seconds)
  return plateStored * rate + s.base + s.link - eliminatedFinTerm(s, rate)
}

const eliminatedFinTerm = (s: ArealConductances, rate: number) => {
  const whole = s.finStored * rate + s.link + s.fin
  return whole > 0 ? s.link ** 2 / whole : 0
}

/**
 * The step, s, whose shift is `shift` (undoes shiftOf, by bisection from 1e-6 to 1e12 s); null where even an endless
 * step needs a greater shift.
 */
export function secondsFor(plateStored: number, s: ArealConductances, shift: number): number | null {
  if (shiftOf(plateStored, s, 1e12) >= shift) return null
  let [low, high] = [1e-6, 1e12]
  for (let i = 0; i < 60; i++) {
    const mid = Math.sqrt(low * high)
    if (shiftOf(plateStored, s, mid) > shift) low = mid
    else high = mid
  }
  return high
}

/**
 * One step of time: temperatures after it, and the energy stored and lost in it, J. `heatW`: W into each cell.
 * `shift`: shiftOf(…) of this step, an argument so that equal shifts are equal to the bit and share a factor.
 * Alexander 1977.
 */
export function advancePlate(
  plate: Plate,
  s: ArealConductances,
  from: PlateTemperatures,
  heatW: Float64Array,
  ambientC: number,
  seconds: number,
  shift: number,
): StepResult {
  const rate = 1 / (GAMMA * seconds)
  const whole = s.finStored * rate + s.link + s.fin
  const n = plate.areaM2.length
  const stage = (plateFrom: Float64Array, finFrom: Float64Array): PlateTemperatures => {
    const plateC = new Float64Array(n)
    const finC = new Float64Array(n)
    for (let i = 0; i < n; i++) {
      const fin = s.finStored * rate * finFrom[i]! + s.fin * ambientC
      const fromFins = whole > 0 ? (s.link * fin) / whole : 0
      const stored = plate.storedJm2K * rate * plateFrom[i]! + s.base * ambientC + fromFins
      plateC[i] = plate.areaM2[i]! * stored + heatW[i]!
    }
    plate.solve(shift, plateC)
    for (let i = 0; i < n; i++) {
      const fin = s.finStored * rate * finFrom[i]! + s.fin * ambientC + s.link * plateC[i]!
      finC[i] = whole > 0 ? fin / whole : plateC[i]!
    }
    return { plateC, finC }
  }
  const one = stage(from.plateC, from.finC)
  // T* = T + (1 − γ)Δt f₁ with f₁ = (T₁ − T)/(γΔt).
  const ratio = (1 - GAMMA) / GAMMA
  const onward = (start: Float64Array, middle: Float64Array) => {
    const out = new Float64Array(n)
    for (let i = 0; i < n; i++) out[i] = start[i]! + ratio * (middle[i]! - start[i]!)
    return out
  }
  const two = stage(onward(from.plateC, one.plateC), onward(from.finC, one.finC))
  const loss = (w: PlateTemperatures) => {
    let sum = 0
    for (let i = 0; i < n; i++) {
      sum += plate.areaM2[i]! * (s.base * (w.plateC[i]! - ambientC) + s.fin * (w.finC[i]! - ambientC))
    }
    return sum
  }
  let storedJ = 0
  for (let i = 0; i < n; i++) {
    storedJ +=
      plate.areaM2[i]! *
      (plate.storedJm2K * (two.plateC[i]! - from.plateC[i]!) + s.finStored * (two.finC[i]! - from.finC[i]!))
  }
  return { temperatures: two, storedJ, lostJ: seconds * ((1 - GAMMA) * loss(one) + GAMMA * loss(two)) }
}

/**
 * Steady temperatures, °C, under constant conductances; `heatW`: W into each cell. Needs a conductance to the air:
 * the plate's solver throws without one.
 */
export function solveSteady(
  plate: Plate,
  s: ArealConductances,
  heatW: Float64Array,
  ambientC: number,
): PlateTemperatures {
  const shift = s.base + (s.link + s.fin > 0 ? (s.link * s.fin) / (s.link + s.fin) : 0)
  const plateC = heatW.slice()
  plate.solve(shift, plateC)
  const share = s.link + s.fin > 0 ? s.link / (s.link + s.fin) : 0
  const finC = plateC.map((rise) => ambientC + share * rise)
  for (let i = 0; i < plateC.length; i++) plateC[i]! += ambientC
  return { plateC, finC }
}
