// A row of the parts list: plain data. Sentences stand in src/report.
import { ownEntry } from '../lamp/ownEntry.ts'
import type { Driver, Face, Gauge, Harness, Lens, Pack } from '../lamp/schema.ts'
import type { FullWorkshop } from '../library/typicalWorkshop.ts'
import type { LaidRun } from '../power/laidRuns.ts'

/** Steps of the assembly, in their order. Every row belongs to the step that first uses it. */
export const STEPS = [
  'face',
  'sink',
  'emitters',
  'boards',
  'protection',
  'drivers',
  'wiring',
  'beforePower',
  'supply',
  'channels',
  'optics',
  'tunnel',
  'lens',
  'cover',
  'powerUp',
] as const
export type StepId = (typeof STEPS)[number]

type Unit = 'piece' | 'm' | 'cm²'

/** Sizes in mm unless named otherwise; null: not in the document. */
export type PartSize =
  | { of: 'plate'; shape: Face['shape']; widthMm: number; heightMm: number; thicknessMm: number }
  | { of: 'fins'; fins: number; heightMm: number; thicknessMm: number; spacingMm: number; allLengthMm: number }
  | { of: 'pins'; pins: number; heightMm: number; diameterMm: number; spacingMm: number }
  | { of: 'ratedSink'; resistanceKW: number; forced: boolean }
  | { of: 'fan' }
  | { of: 'emitter'; bodyMm: number; currentA: number }
  | { of: 'board'; widthMm: number; heightMm: number; thicknessMm: number; emitters: number }
  | { of: 'spacer'; heightMm: number }
  | { of: 'wedge'; heightMm: number; tiltDeg: number }
  | { of: 'compound' }
  | { of: 'screw'; threadMm: number; holds: 'board' | 'ring' | 'standOff' }
  | { of: 'washer' | 'nut'; threadMm: number }
  | { of: 'cutOut'; opensC: number; closesC: number | null }
  | { of: 'sensor' }
  | { of: 'driver'; kind: Driver['kind']; inputMinV: number; inputMaxV: number; maxOutputA: number }
  | {
      of: 'wire'
      gauge: Gauge
      colour: string
      run: 'main' | 'group' | 'channel' | 'board'
      insulationC: number
      /** Without the allowance. */
      laidM: number
      copperG: number
      insulationG: number
    }
  | { of: 'contacts'; maxA: number | null; maxV: number | null }
  | { of: 'fuse' | 'fuseHolder'; amps: number; volts: number; kind: NonNullable<LaidRun['fuse']>['kind'] | null }
  | { of: 'contactor' | 'relay'; maxA: number; maxV: number | null; breaksA: number | null }
  | { of: 'precharge'; ohm: number }
  | { of: 'optic'; kind: 'collimator' | 'reflector'; exitMm: number; heightMm: number | null }
  | {
      of: 'stretch'
      sides: number
      rectangle: boolean
      fromZMm: number
      toZMm: number
      inMm: number
      outMm: number
      inHeightMm: number
      outHeightMm: number
      areaCm2: number
      thicknessMm: number
      /** Of the glued or riveted flap; null: edge on edge. */
      flapMm: number | null
    }
  | { of: 'step'; zMm: number; areaCm2: number; thicknessMm: number }
  | {
      of: 'element'
      kind: Lens['kind'] | 'cover' | 'diffuser'
      shape: 'round' | 'square' | 'rectangle'
      widthMm: number
      heightMm: number
      thicknessMm: number | null
      zMm: number
    }
  /** Of the printed lens ring; its opening and its outside along x and y, the height of its lower lip, and the whole. */
  | {
      of: 'ring'
      round: boolean
      innerMm: readonly [number, number]
      outerMm: readonly [number, number]
      lipMm: number
      heightMm: number
    }
  | { of: 'standOff'; lengthMm: number; threadMm: number }
  | { of: 'lensCover'; atLeastMm: number }
  | { of: 'cell'; chemistry: Pack['chemistry']; cellAh: number; series: number; parallel: number }
  | { of: 'packProtection'; amps: number }
  | { of: 'supply'; volts: number; maxA: number }

/**
 * weighed: by the builder. stated: in the document. computed: its sizes are in the document. typical: a size or a density of it is taken as
 * typical.
 */
export type MassBasis = 'weighed' | 'stated' | 'computed' | 'typical'

export interface Mass {
  /** Of all its pieces. */
  g: number
  basis: MassBasis
  source: string
}

export interface Part {
  /** Stable: prices and weighed masses of the document are found by it. */
  key: string
  step: StepId
  /** As the document calls it; null: what it is says it. */
  name: string | null
  amount: number
  unit: Unit
  size: PartSize
  material: string | null
  /** Null: not known. */
  mass: Mass | null
  /** lamp: it moves with the head; apart: supply, what stands beside the lamp, and the wires to it. */
  where: 'lamp' | 'apart'
  /** Centre of all its pieces, mm, in the lamp's frame; null: its place isn't known. */
  placeMm: readonly [number, number, number] | null
  /** The document doesn't name it: taken as typical. */
  assumed: boolean
  /** Of one piece or one unit, and of all; null: none typed. */
  price: number | null
  cost: number | null
}

/** A part before what the builder has typed about it. */
export type PlainPart = Omit<Part, 'price' | 'cost' | 'where' | 'placeMm' | 'assumed'> &
  Partial<Pick<Part, 'where' | 'placeMm' | 'assumed'>>

/** With its price, and weighed where the builder has. */
export function typedPart(plain: PlainPart, workshop: Pick<FullWorkshop, 'prices' | 'massG'>): Part {
  const price = ownEntry(workshop.prices, plain.key) ?? null
  const eachG = ownEntry(workshop.massG, plain.key)
  return {
    ...{ where: 'lamp', placeMm: null, assumed: false },
    ...plain,
    mass: eachG === undefined ? plain.mass : { g: eachG * plain.amount, basis: 'weighed', source: 'weighed' },
    price,
    cost: price === null ? null : price * plain.amount,
  }
}

/** Mass of a volume in mm³, g. */
export const gramsOf = (volumeMm3: number, densityKgM3: number): number => volumeMm3 * densityKgM3 * 1e-6

/** "awg8", "awg-1" for 2/0, "0.75mm2". */
export const gaugeKey = (g: Harness['main']['gauge']): string => (g.system === 'awg' ? `awg${g.number}` : `${g.mm2}mm2`)

/** Rounds what stands in keys, so that the same value always gives the same key. */
export const keyNumber = (x: number): string => String(Number(x.toPrecision(6)))
