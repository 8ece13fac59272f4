// The parts list of a lamp: every part that the document names or needs, in the order of assembly, with what it weighs and costs.
import { elementsOf } from '../lamp/assembly.ts'
import { boardTypeOf } from '../lamp/place.ts'
import type { Lamp, Workshop } from '../lamp/schema.ts'
import { coolingOf, powerOf } from '../library/typicalPower.ts'
import { workshopOf } from '../library/typicalWorkshop.ts'
import { headParts } from './headParts.ts'
import { heldByRing, lightParts, standsOnFace } from './lightParts.ts'
import { type Part, STEPS, typedPart } from './part.ts'
import { powerParts, WIRE_ALLOWANCE } from './powerParts.ts'

/** What the document has no words for, and so no row stands for. */
export type NotListed =
  | 'housing'
  | 'stand'
  | 'glue'
  | 'controls'
  | 'boardScrews'
  | 'elementHolders'
  | 'ringCarrier'
  | 'air'
  | 'idealLens'

export interface MassSum {
  /** Of every row with a mass, and the part of it that rests on typical sizes or densities. */
  knownG: number
  typicalG: number
  rows: number
  /** Keys of the rows without one. */
  unknown: string[]
}

export interface CentreOfGravity {
  xMm: number
  yMm: number
  zMm: number
  /** Of what it is the centre of. */
  ofG: number
  /** Keys of the lamp's rows that have a mass and no place. */
  without: string[]
}

interface CostSum {
  currency: string
  total: number
  priced: number
  rows: number
}

export interface PartsList {
  lamp: string
  parts: Part[]
  /** The head: all that moves with it. */
  mass: MassSum
  /** Null: nothing has both a mass and a place. */
  centre: CentreOfGravity | null
  /** Supply, drivers beside the lamp, wires to them. */
  apart: MassSum
  cost: CostSum
  /** Keys with a price or a mass in the document that no row has. */
  unused: string[]
  notListed: NotListed[]
  /** Sentences of what is taken as typical for cooling and power. */
  assumed: string[]
  /** Entries of the workshop that the list reads and the document doesn't have. */
  typicalWorkshop: (keyof Workshop)[]
  wireAllowance: number
}

/** All parts in the order of assembly. Masses g, places mm in the lamp's frame; what isn't known is null, never 0. */
export function partsList(lamp: Lamp): PartsList {
  const workshop = workshopOf(lamp)
  const plain = [...headParts(lamp), ...lightParts(lamp), ...powerParts(lamp)]
  const parts = STEPS.flatMap((step) => plain.filter((p) => p.step === step)).map((p) => typedPart(p, workshop))
  const own = parts.filter((p) => p.where === 'lamp')
  const keys = new Set(parts.map((p) => p.key))
  return {
    lamp: lamp.name,
    parts,
    mass: sumMass(own),
    centre: centreOf(own),
    apart: sumMass(parts.filter((p) => p.where === 'apart')),
    cost: {
      currency: workshop.currency,
      total: parts.reduce((sum, p) => sum + (p.cost ?? 0), 0),
      priced: parts.filter((p) => p.cost !== null).length,
      rows: parts.length,
    },
    unused: [...new Set([...Object.keys(workshop.prices), ...Object.keys(workshop.massG)])].filter((k) => !keys.has(k)),
    notListed: notListed(lamp),
    assumed: [...coolingOf(lamp).assumptions, ...powerOf(lamp).assumptions],
    typicalWorkshop: typicalEntries(lamp, keys),
    wireAllowance: WIRE_ALLOWANCE,
  }
}

export function sumMass(parts: readonly Part[]): MassSum {
  const known = parts.flatMap((p) => p.mass ?? [])
  const sum = (masses: readonly { g: number }[]) => masses.reduce((all, m) => all + m.g, 0)
  return {
    knownG: sum(known),
    typicalG: sum(known.filter((m) => m.basis === 'typical')),
    rows: parts.length,
    unknown: parts.filter((p) => p.mass === null).map((p) => p.key),
  }
}

/** Σ m r / Σ m of the parts that have both. */
export function centreOf(parts: readonly Part[]): CentreOfGravity | null {
  const placed = parts.flatMap(({ mass, placeMm }) => (mass && placeMm ? [{ g: mass.g, placeMm }] : []))
  const ofG = placed.reduce((sum, p) => sum + p.g, 0)
  if (!(ofG > 0)) return null
  const mean = (k: 0 | 1 | 2) => placed.reduce((sum, p) => sum + p.g * p.placeMm[k], 0) / ofG
  const without = parts.filter((p) => p.mass && !p.placeMm).map((p) => p.key)
  return { xMm: mean(0), yMm: mean(1), zMm: mean(2), ofG, without }
}

function notListed(lamp: Lamp): NotListed[] {
  const held = heldByRing(lamp)
  const holds = elementsOf(lamp).length > (held || lamp.lens ? 1 : 0)
  const noHoles = lamp.boards.some((b) => !boardTypeOf(lamp, b).holes?.length)
  return [
    ...(noHoles ? (['boardScrews'] as const) : []),
    ...(held && !standsOnFace(lamp) ? (['ringCarrier'] as const) : []),
    ...(holds ? (['elementHolders'] as const) : []),
    ...(elementsOf(lamp).some((e) => e.kind === 'ideal') ? (['idealLens'] as const) : []),
    ...(coolingOf(lamp).value.air.kind === 'moved' ? (['air'] as const) : []),
    ...(['controls', 'glue', 'housing', 'stand'] as const),
  ]
}

/** By which rows are there to read them. */
function typicalEntries({ workshop }: Lamp, keys: ReadonlySet<string>): (keyof Workshop)[] {
  const has = (start: string) => [...keys].some((k) => k.startsWith(start))
  const read: (keyof Workshop)[] = [
    ...(has('screw:board') ? (['boardScrewMm'] as const) : []),
    ...(has('tunnel') ? (['tunnelThicknessMm', 'tunnelDensityKgM3', 'tunnelMaterial', 'seam'] as const) : []),
    ...(has('lens-ring') ? (['lensRing', 'printer'] as const) : []),
  ]
  return read.filter((entry) => workshop?.[entry] === undefined)
}
