// From the plate's back to the air: what the bare back and the fins lose at each temperature, what the fins store,
// and the conductance between plate and fins; or a sink by its data sheet. Front and tunnel are taken to lose nothing: the
// hotter side.
import { type FaceSize, faceBox, faceChordMm, facePerimeterMm } from '../lamp/facePlate.ts'
import type { Cooling, Sink } from '../lamp/schema.ts'
import { EMISSIVITY, METALS } from '../library/metals.ts'
import { type Air, airAt, rayleigh, STEFAN_BOLTZMANN, ZERO_C } from './air.ts'
import { fanSpeedMS, freeFlowM3h } from './blower.ts'
import {
  blownCylinder,
  blownFins,
  blownPlate,
  channel,
  finsUp,
  hotSideDown,
  hotSideUp,
  JOINED,
  joinedFilm,
  levelCylinder,
  verticalPlate,
} from './convection.ts'
import { faceAreaM2 } from './face.ts'
import { finEfficiency, overhangWK, pinEfficiency } from './fins.ts'

/** Conductances of the whole sink, W/K. In the steady state plate to air is `base` beside `link` and `fin` in series. */
interface SinkAt {
  /** Plate to air. */
  base: number
  /** Plate to fins: chosen so that the fins lose efficiency × area × film; about 3 k × section / height. */
  link: number
  /** Fins to air. */
  fin: number
}

export interface SinkModel {
  /** What the fins, or a sink by its data sheet, hold, J/K. */
  finHeatJK: number
  /** 0 for a sink by its data sheet, which doesn't say it. */
  finKg: number
  /** Fins that found no room on the face. */
  leftOut: number
  /** About plate's back and fins, m², and how well its surface radiates; null for a sink by its data sheet. */
  envelopeM2: number | null
  emissivity: number
  /** Null in still air, and where the sink's own data count. */
  speedMS: number | null
  /** At the plate's mean temperature. */
  at(plateC: number): SinkAt
  /** The same, plate to air. */
  totalWK(plateC: number): number
}

type RatedSink = Extract<Sink, { kind: 'rated' }>
type FinSink = Exclude<Sink, RatedSink>
/** Cooling by the correlations. */
type FinCooling = Cooling & { sink: FinSink }

interface Geometry {
  areaM2: number
  /** Of the plate along the air, on average. */
  lengthM: number
  perimeterM: number
  finAreaM2: number
  coveredM2: number
  metalM3: number
  leftOut: number
  /** Area of the fins beyond the plate's edges, within finAreaM2, and how far each fin stands out at each end. */
  beyondM2: number
  overhangsM: number[]
}

/**
 * The sink's conductances (W/K) over the plate's mean temperature (°C), and what its fins store. `face` in mm,
 * ambient in °C. Convection by convection.ts, fin efficiency by fins.ts, fans by blower.ts, radiation by a grey
 * enclosure (Incropera and DeWitt, § 13.3).
 * From ambient to 396 K above it; beyond, the last values hold. Fins that find no room are counted in `leftOut`, not
 * refused. A sink by its data sheet has no correlations: its resistance and its heat capacity hold at every temperature.
 */
export function makeSink(stated: Cooling, face: FaceSize, ambientC: number): SinkModel {
  const { sink } = stated
  return sink.kind === 'rated'
    ? makeRatedSink(sink, stated.plate, face)
    : makeFinSink({ ...stated, sink }, face, ambientC)
}

/**
 * One store of heat on the plate's back, at the temperature of the sink's base (lumped capacitance; Incropera and
 * DeWitt, § 5.1), before the resistance to the air. Half of the plate's thickness lies between the plate's mean and its
 * base. It takes heat evenly from the whole back, and its base carries none sideways: the hotter side for a sink as large
 * as the plate, the cooler one for a smaller sink.
 */
function makeRatedSink(sink: RatedSink, plate: Cooling['plate'], face: FaceSize): SinkModel {
  const fin = 1 / sink.resistanceKW
  const link = (METALS[plate.metal].conductivityWmK * faceAreaM2(face)) / (plate.thicknessMm / 2000)
  return {
    finKg: 0,
    finHeatJK: sink.heatCapacityJK,
    leftOut: 0,
    envelopeM2: null,
    emissivity: 1,
    speedMS: null,
    at: () => ({ base: 0, link, fin }),
    totalWK: () => (link * fin) / (link + fin),
  }
}

function makeFinSink(stated: FinCooling, face: FaceSize, ambientC: number): SinkModel {
  const g = readGeometry(stated.sink, face)
  // Where no fin finds room the plate's back is bare.
  const cooling: FinCooling = g.finAreaM2 > 0 ? stated : { ...stated, sink: { kind: 'none' } }
  const { sink } = cooling
  const metal = METALS[cooling.plate.metal]
  const speedMS = speedOf(cooling, g, ambientC)
  const emissivity = EMISSIVITY[cooling.finish].value
  const exact = (plateC: number): SinkAt => {
    const air = airAt((Math.max(plateC, ambientC) + ambientC) / 2)
    const kelvin = Math.max(0.5, plateC - ambientC)
    const film = filmOf(cooling, g, air, kelvin, speedMS)
    const radiated = radiationWK(sink, g, emissivity, plateC, ambientC)
    if (sink.kind === 'none') return { base: film.base * g.areaM2 + radiated, link: 0, fin: 0 }
    const fin = film.fin * g.finAreaM2 + radiated
    const h = fin / g.finAreaM2
    const k = metal.conductivityWmK
    const eta =
      sink.kind === 'fins' ? finsEta(sink, g, h, k) : pinEfficiency(h, k, sink.diameterMm / 1000, sink.heightMm / 1000)
    return { base: film.base * (g.areaM2 - g.coveredM2), link: (fin * eta) / Math.max(1e-9, 1 - eta), fin }
  }
  // Half of the plate's thickness lies between its mean and its back.
  const backKW = cooling.plate.thicknessMm / 2000 / (metal.conductivityWmK * g.areaM2)
  const at = tabulate((plateC) => behind(exact(plateC), backKW), ambientC)
  return {
    finKg: g.metalM3 * metal.densityKgM3,
    finHeatJK: g.metalM3 * metal.densityKgM3 * metal.heatJkgK,
    leftOut: g.leftOut,
    envelopeM2: envelopeM2(sink, g),
    emissivity,
    speedMS,
    at,
    totalWK: (plateC) => {
      const { base, link, fin } = at(plateC)
      return base + (fin > 0 ? (link * fin) / (link + fin) : 0)
    },
  }
}

/** A sink behind a resistance: what it takes in the steady state is what both take in series. */
function behind({ base, link, fin }: SinkAt, backKW: number): SinkAt {
  const inner = fin > 0 ? (link * fin) / (link + fin) : 0
  const share = 1 / (1 + (base + inner) * backKW)
  const through = share * inner
  return { base: share * base, link: fin > 0 ? (through * fin) / (fin - through) : 0, fin }
}

/** Share of all fins' area that counts, with what stands out beyond the plate by its own conduction. */
function finsEta(sink: Extract<Sink, { kind: 'fins' }>, g: Geometry, h: number, k: number): number {
  const [t, height] = [sink.thicknessMm / 1000, sink.heightMm / 1000]
  const eta = finEfficiency(h, k, t, height)
  if (g.overhangsM.length === 0) return eta
  const beyond = g.overhangsM.reduce((sum, m) => sum + 2 * overhangWK(h, k, t, height, m), 0)
  return (eta * (g.finAreaM2 - g.beyondM2) + Math.min(beyond / h, eta * g.beyondM2)) / g.finAreaM2
}

const STEP_K = 4
const ROWS = 100

/** A table of the correlations, made row by row when a row is first needed: every step of a run reads it. */
function tabulate(exact: (plateC: number) => SinkAt, ambientC: number): (plateC: number) => SinkAt {
  const rows: SinkAt[] = []
  const row = (i: number) => {
    rows[i] ??= exact(ambientC + STEP_K * i)
    return rows[i]!
  }
  return (plateC) => {
    const x = Math.min(ROWS - 1, Math.max(0, (plateC - ambientC) / STEP_K))
    const i = Math.min(ROWS - 2, Math.floor(x))
    const [a, b, t] = [row(i), row(i + 1), x - i]
    const mix = (p: number, q: number) => p + t * (q - p)
    return { base: mix(a.base, b.base), link: mix(a.link, b.link), fin: mix(a.fin, b.fin) }
  }
}

function readGeometry(sink: FinSink, face: FaceSize): Geometry {
  const areaM2 = faceAreaM2(face)
  const perimeterM = facePerimeterMm(face) / 1000
  const { fromX, toX } = faceBox(face)
  const none = { areaM2, lengthM: areaM2 / ((toX - fromX) / 1000), perimeterM, leftOut: 0, beyondM2: 0, overhangsM: [] }
  if (sink.kind === 'none') return { ...none, finAreaM2: 0, coveredM2: 0, metalM3: 0 }
  if (sink.kind === 'pins') {
    const pitch = sink.spacingMm + sink.diameterMm
    const room = Math.floor((areaM2 * 1e6) / (pitch * pitch))
    const count = Math.min(sink.count, room)
    const [d, h] = [sink.diameterMm / 1000, sink.heightMm / 1000]
    const coveredM2 = (count * Math.PI * d * d) / 4
    const finAreaM2 = count * Math.PI * d * (h + d / 4)
    return { ...none, finAreaM2, coveredM2, metalM3: coveredM2 * h, leftOut: sink.count - count }
  }
  const pitch = sink.spacingMm + sink.thicknessMm
  let lengthM = 0
  let finsOnFace = 0
  const overhangsM: number[] = []
  for (let i = 0; i < sink.count; i++) {
    const chord = faceChordMm(face, (fromX + toX) / 2 + (i - (sink.count - 1) / 2) * pitch)
    if (chord <= 0) continue
    finsOnFace++
    const own = sink.lengthMm ?? chord
    lengthM += own / 1000
    if (own > chord) overhangsM.push((own - chord) / 2000)
  }
  const [t, h] = [sink.thicknessMm / 1000, sink.heightMm / 1000]
  const beyondM = 2 * overhangsM.reduce((sum, m) => sum + m, 0)
  return {
    ...none,
    overhangsM,
    beyondM2: 2 * beyondM * (h + t / 2),
    lengthM: finsOnFace > 0 ? lengthM / finsOnFace : none.lengthM,
    finAreaM2: 2 * lengthM * (h + t / 2),
    coveredM2: Math.min(areaM2, (lengthM - beyondM) * t),
    metalM3: lengthM * t * h,
    leftOut: sink.count - finsOnFace,
  }
}

function speedOf({ air, sink }: FinCooling, g: Geometry, ambientC: number): number | null {
  if (air.kind === 'still') return null
  if (air.kind === 'moved') return air.speedMS
  if (sink.kind === 'fins') return fanSpeedMS(air, sink, g.lengthM, ambientC)
  // No channels to work against: half of its free flow, across the pins or 80 mm above the plate (no source).
  const heightM = sink.kind === 'pins' ? sink.heightMm / 1000 : 0.08
  return freeFlowM3h(air) / 3600 / 2 / (heightM * (g.areaM2 / g.lengthM))
}

/** Film coefficients on fins and bare back, W/m²K. */
function filmOf(cooling: FinCooling, g: Geometry, air: Air, kelvin: number, speedMS: number | null) {
  const still = stillFilm(cooling, g, air, kelvin)
  if (speedMS === null) return still
  const blown = blownFilm(cooling.sink, g, air, speedMS)
  const plateN = cooling.aim === 'level' ? JOINED.upright : JOINED.level
  const finN = cooling.sink.kind === 'pins' ? JOINED.cylinder : plateN
  return { base: joinedFilm(blown.base, still.base, plateN), fin: joinedFilm(blown.fin, still.fin, finN) }
}

function stillFilm({ sink, aim }: FinCooling, g: Geometry, air: Air, kelvin: number): { base: number; fin: number } {
  const k = air.conductivityWmK
  const across = g.areaM2 / g.perimeterM
  const plateRa = rayleigh(air, aim === 'level' ? g.lengthM : across, kelvin)
  const plate =
    aim === 'level'
      ? (verticalPlate(plateRa, air.prandtl) * k) / g.lengthM
      : ((aim === 'down' ? hotSideUp(plateRa) : hotSideDown(plateRa)) * k) / across
  if (sink.kind === 'none') return { base: plate, fin: 0 }
  const spacing = sink.spacingMm / 1000
  const spacingRa = rayleigh(air, spacing, kelvin)
  // Fins below the plate draw air only from their sides: half of what they lose when upright (no source; the hotter side).
  const between =
    aim === 'level'
      ? (channel((spacingRa * spacing) / g.lengthM) * k) / spacing
      : ((aim === 'up' ? 0.5 : 1) * finsUp(spacingRa) * k) / spacing
  if (sink.kind === 'fins') return { base: Math.min(plate, between), fin: between }
  const d = sink.diameterMm / 1000
  const h = sink.heightMm / 1000
  const alone =
    aim === 'level'
      ? (levelCylinder(rayleigh(air, d, kelvin), air.prandtl) * k) / d
      : (verticalPlate(rayleigh(air, h, kelvin), air.prandtl) * k) / h
  const fin = Math.min(alone, between)
  return { base: Math.min(plate, fin), fin }
}

function blownFilm(sink: FinSink, g: Geometry, air: Air, speedMS: number): { base: number; fin: number } {
  const k = air.conductivityWmK
  const plate = (blownPlate((speedMS * g.lengthM) / air.kinematic, air.prandtl) * k) / g.lengthM
  if (sink.kind === 'none') return { base: plate, fin: 0 }
  if (sink.kind === 'fins') {
    const s = sink.spacingMm / 1000
    const re = (speedMS * s * s) / (air.kinematic * g.lengthM)
    const film = (blownFins(re, air.prandtl) * k) / s
    return { base: film, fin: film }
  }
  const d = sink.diameterMm / 1000
  return { base: plate, fin: (blownCylinder((speedMS * d) / air.kinematic, air.prandtl) * k) / d }
}

const envelopeM2 = (sink: FinSink, g: Geometry): number =>
  g.areaM2 + (sink.kind === 'none' ? 0 : sink.heightMm / 1000) * g.perimeterM

/**
 * Grey surfaces of total area A inside a convex envelope E radiate like the envelope with 1/(1 + (E/A)(1/ε − 1)) (a cavity of even
 * temperature; Incropera and DeWitt, § 13.3, two-surface enclosure).
 */
function radiationWK(sink: FinSink, g: Geometry, emissivity: number, plateC: number, ambientC: number): number {
  const envelope = envelopeM2(sink, g)
  const whole = Math.max(envelope, g.areaM2 - g.coveredM2 + g.finAreaM2)
  const apparent = 1 / (1 + (envelope / whole) * (1 / emissivity - 1))
  const [hot, cold] = [Math.max(plateC, ambientC) + ZERO_C, ambientC + ZERO_C]
  return apparent * envelope * STEFAN_BOLTZMANN * (hot * hot + cold * cold) * (hot + cold)
}
