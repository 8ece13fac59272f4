// The order of assembly as data: which parts each step uses, what is checked at its end, which dangers belong to it. Sentences: src/report/assembly.ts.
// Order and checks: common practice, no source. What is measured and what is done with power is src/power/powerUp.ts; here stands only to which
// step its items belong. Each channel is tried while the lamp is open: a thermometer reaches its board, and no lens bundles the light.
import { elementsOf, type RowElement } from '../lamp/assembly.ts'
import { placeEmitters } from '../lamp/place.ts'
import type { Lamp } from '../lamp/schema.ts'
import { powerOf } from '../library/typicalPower.ts'
import { STEPS, type StepId } from './part.ts'
import { type PartsList, partsList } from './partsList.ts'

export type CheckId =
  | 'holesByDrawing'
  | 'edgesBroken'
  | 'faceFlat'
  | 'sinkJoint'
  | 'finsFree'
  | 'fanTurns'
  | 'emittersAlike'
  | 'stringsGlow'
  | 'compoundThin'
  | 'boardTorque'
  | 'boardsInsulated'
  | 'boardHeights'
  | 'cutOutOpens'
  | 'sensorTouches'
  | 'driversLow'
  | 'driversCooled'
  | 'crimpsHold'
  | 'strainRelief'
  | 'colours'
  | 'fusesOut'
  | 'readingsNoted'
  | 'opticsSeated'
  | 'opticsHeight'
  | 'opticsAim'
  | 'tunnelStarts'
  | 'tunnelEnds'
  | 'tunnelClean'
  | 'lensAt'
  | 'elementAt'
  | 'groovesToTarget'
  | 'groovesToSource'
  | 'curvedToTarget'
  | 'curvedToSource'
  | 'lensSquare'
  | 'ringTorque'
  | 'coverFits'
  | 'packByMaker'
  | 'supplyConnected'
  | 'disconnectedAgain'
  | 'weakestFirst'
  | 'protectionActs'
  | 'coverAfterwards'

export interface Check {
  id: CheckId
  /** mm, or °C of a cut-out. */
  value?: number
  /** As the document calls it. */
  name?: string
}

/** Dangers of a step. Those of the lamp itself are named as src/checks/cautions.ts has them. */
export type StepCaution =
  | 'eyes'
  | 'clear-distance'
  | 'heat'
  | 'fuses'
  | 'packs'
  | 'rules'
  | 'estimates'
  | 'daylight'
  | 'burningGlass'
  | 'drilling'
  | 'sharpEdges'
  | 'soldering'
  | 'charged'

export interface AssemblyStep {
  id: StepId
  /** Keys of the parts list. */
  parts: string[]
  checks: Check[]
  cautions: StepCaution[]
}

/** The steps that this lamp needs, in their order. Every part of the list belongs to exactly one of them. */
export function assemblyOrder(lamp: Lamp, list: PartsList = partsList(lamp)): AssemblyStep[] {
  return STEPS.flatMap((id): AssemblyStep[] => {
    const parts = list.parts.filter((p) => p.step === id).map((p) => p.key)
    const wanted = parts.length > 0 || (WITHOUT_PARTS.has(id) && lamp.boards.length > 0)
    if (!wanted) return []
    return [{ id, parts, checks: checksOf(lamp, id, new Set(parts)), cautions: cautionsOf(lamp, id) }]
  })
}

const WITHOUT_PARTS: ReadonlySet<StepId> = new Set(['beforePower', 'channels', 'powerUp'])

/** Items of the power-up list that are done without power. */
const WITHOUT_POWER: ReadonlySet<string> = new Set(['supply apart', 'insulation', 'continuity', 'polarity'])

/** The step of the assembly in which an item of the power-up list (its `step`) is done. */
export const stepOfPowerUp = (item: string): 'beforePower' | 'channels' =>
  WITHOUT_POWER.has(item) ? 'beforePower' : 'channels'

const plain = (...ids: CheckId[]): Check[] => ids.map((id) => ({ id }))

function checksOf(lamp: Lamp, step: StepId, parts: ReadonlySet<string>): Check[] {
  switch (step) {
    case 'face':
      return plain('holesByDrawing', 'edgesBroken', 'faceFlat')
    case 'sink':
      return plain(
        ...(parts.has('sink') ? (['sinkJoint', 'finsFree'] as const) : []),
        ...(parts.has('fan') ? (['fanTurns'] as const) : []),
      )
    case 'emitters':
      return plain('emittersAlike', 'stringsGlow')
    case 'boards':
      return boardChecks(parts)
    case 'protection':
      return protectionChecks(lamp)
    case 'drivers':
      return plain('driversLow', 'driversCooled')
    case 'wiring':
      return plain('crimpsHold', 'strainRelief', 'colours', 'fusesOut')
    case 'beforePower':
      return plain('readingsNoted')
    case 'optics':
      return opticChecks(lamp)
    case 'tunnel':
      return tunnelChecks(lamp)
    case 'lens':
      return [...elementsOf(lamp).flatMap(elementChecks), ...plain('lensSquare', 'ringTorque')]
    case 'cover':
      return plain('coverFits')
    case 'supply':
      return plain(powerOf(lamp).value.supply.kind === 'pack' ? 'packByMaker' : 'supplyConnected')
    case 'channels':
      return plain('disconnectedAgain')
    case 'powerUp':
      return powerUpChecks(lamp)
  }
}

function powerUpChecks(lamp: Lamp): Check[] {
  const { cutOut, foldBack } = powerOf(lamp).value.protection ?? {}
  return plain(
    'weakestFirst',
    ...(cutOut || foldBack ? (['protectionActs'] as const) : []),
    ...(elementsOf(lamp).length > 0 ? (['coverAfterwards'] as const) : []),
  )
}

function boardChecks(parts: ReadonlySet<string>): Check[] {
  const raised = [...parts].some((key) => /^(spacer|wedge):/.test(key))
  return plain('compoundThin', 'boardTorque', 'boardsInsulated', ...(raised ? (['boardHeights'] as const) : []))
}

function protectionChecks(lamp: Lamp): Check[] {
  const { cutOut, foldBack, sensor } = powerOf(lamp).value.protection ?? {}
  return [
    ...(cutOut ? [{ id: 'cutOutOpens', value: cutOut.openC } as const] : []),
    ...(cutOut || foldBack || sensor ? plain('sensorTouches') : []),
  ]
}

/** Of each kind that is used: collimators with the height of their exit. */
function opticChecks(lamp: Lamp): Check[] {
  const places = placeEmitters(lamp)
  const used = new Set(places.map((p) => p.optic))
  const heights = [...used].flatMap((o): Check[] =>
    o.kind === 'collimator' ? [{ id: 'opticsHeight', value: o.heightMm, name: o.name }] : [],
  )
  const aimed = places.some((p) => !p.plain)
  return [...plain('opticsSeated'), ...heights, ...(aimed ? plain('opticsAim') : [])]
}

const tunnelChecks = ({ tunnel }: Lamp): Check[] =>
  tunnel
    ? [
        { id: 'tunnelStarts', value: tunnel.zInMm },
        { id: 'tunnelEnds', value: tunnel.zOutMm },
        ...plain('edgesBroken', 'tunnelClean'),
      ]
    : []

function elementChecks(e: RowElement): Check[] {
  const at: Check = e.isLens ? { id: 'lensAt', value: e.zMm } : { id: 'elementAt', value: e.zMm, name: e.name }
  const named = e.isLens ? {} : { name: e.name }
  if (e.kind === 'fresnel')
    return [at, { id: e.grooves === 'target' ? 'groovesToTarget' : 'groovesToSource', ...named }]
  if (e.kind === 'solid') return [at, { id: e.curved === 'target' ? 'curvedToTarget' : 'curvedToSource', ...named }]
  return [at]
}

const focuses = (e: RowElement): boolean => e.kind !== 'cover' && e.kind !== 'diffuser'

function cautionsOf(lamp: Lamp, step: StepId): StepCaution[] {
  const burns = elementsOf(lamp).some(focuses)
  switch (step) {
    case 'face':
      return ['drilling']
    case 'emitters':
      return ['soldering', 'eyes']
    case 'drivers':
      return ['charged']
    case 'wiring':
      return ['rules', 'fuses']
    case 'beforePower':
      return ['charged']
    case 'tunnel':
      return ['sharpEdges']
    case 'lens':
      return burns ? ['burningGlass'] : []
    case 'cover':
      return ['daylight']
    case 'supply':
      return [...(powerOf(lamp).value.supply.kind === 'pack' ? (['packs'] as const) : []), 'rules', 'fuses']
    case 'channels':
      return ['eyes', 'heat', 'fuses']
    case 'powerUp':
      return ['eyes', 'clear-distance', 'heat', 'estimates', 'rules']
    default:
      return []
  }
}
