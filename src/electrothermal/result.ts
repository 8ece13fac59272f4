// What the coupled run of heat and power leaves, as plain data: curves, maps, an account of the energy. The screen and the terminal show it.
import type { TimedLimit } from '../heat/limits.ts'
import type { Sink } from '../lamp/schema.ts'
import type { DriverState } from '../power/driver.ts'
import type { FaultCurrents, Inrush } from '../power/fault.ts'
import type { PowerUpItem } from '../power/powerUp.ts'
import type { WireRun } from '../power/schedule.ts'
import type { GroupNeed, SwitchNeed } from '../power/switching.ts'
import type { WorstCase } from '../power/worstCase.ts'

export type { PowerUpItem } from '../power/powerUp.ts'
export type { WireRun } from '../power/schedule.ts'
export type { GroupNeed, SwitchNeed } from '../power/switching.ts'

/** Light that stays in the lamp, as shares of the emitted watts. From a trace's ledger, or what the optics are known to lose. */
export interface RetainedLight {
  /** Heats the plate: absorbed by the face, and lost in the emitters' optics. */
  face: number
  optics: number
  /** Heats the tunnel, which is taken to share nothing with the plate. */
  wall: number
  traced: boolean
}

/** One value for each moment of `tS`. */
export interface PowerCurves {
  tS: Float64Array
  /** Luminous flux of all emitters. */
  lm: Float64Array
  junctionMaxC: Float64Array
  plateMaxC: Float64Array
  plateMeanC: Float64Array
  /** Its coolest place: where a sensor would be worst. */
  plateMinC: Float64Array
  /** Mean of the fins, or of a rated sink's base, °C; without either, of the plate. */
  sinkC: Float64Array
  /** From the plate into the fins or the rated sink, W. */
  sinkW: Float64Array
  /** At the supply's terminals. */
  supplyV: Float64Array
  supplyA: Float64Array
  /** Share of full charge; 1 throughout on a supply without end. */
  charge: Float64Array
  /** Warmed by their own losses, nothing given off: an upper bound. */
  cellC: Float64Array
}

/** J since switch-on, at each moment of the curves. in = light + wall + stored + toAir + driver + wires + cells. */
export interface EnergyAccount {
  /** Open-circuit voltage × current: what the cells' chemistry gives. */
  inJ: Float64Array
  /** Light that leaves the emitters and does not stay in the lamp. */
  lightJ: Float64Array
  /** Light absorbed by the tunnel's wall. */
  wallJ: Float64Array
  /** Stored in plate and sink. */
  storedJ: Float64Array
  toAirJ: Float64Array
  /** Lost in the drivers; those on the plate warm it instead. */
  driverJ: Float64Array
  wiresJ: Float64Array
  /** Lost inside the supply. */
  cellsJ: Float64Array
}

/** Temperature of the plate over its face; NaN off the plate. Row-major from low y. */
export interface PlateFrames {
  columns: number
  rows: number
  fromXMm: number
  toXMm: number
  fromYMm: number
  toYMm: number
  tS: Float64Array
  /** °C, one picture for each moment. */
  frames: Float32Array[]
}

/**
 * off: the mode asks for no current. cutOut: the cut-out opens and stays open. cycles: it opens and closes over and over.
 * beyond: left on, the plate passes 400 °C, above which the model means nothing.
 */
export type LimitKind =
  | 'off'
  | 'cutOut'
  | 'cycles'
  | 'junction'
  | 'beyond'
  | 'empty'
  | 'drivers'
  | 'cells'
  | 'supply'
  | 'steady'
  | 'long'

export interface Limit {
  kind: LimitKind
  atS: number
  /** Place in `lamp.boards`, where one board is it. */
  boardIndex: number | null
}

export interface SteadyState {
  junctionMaxC: number
  plateMaxC: number
  plateMeanC: number
  lm: number
  boardIndex: number
  /** Every junction stays under its limit. */
  bearable: boolean
}

interface BoardAtEnd {
  boardIndex: number
  id: string
  junctionC: number
  plateC: number
  lm: number
  currentA: number
}

interface ChannelAtStart {
  id: string
  state: DriverState
  inV: number
  inA: number
  outV: number
  outA: number
  duty: number
}

/** What cut-out and fold-back did in a run. */
export interface ProtectionRun {
  /** When the cut-out first opened; null: never. */
  firstOpenS: number | null
  openings: number
  /** It latches, or the plate can't cool to where it closes. */
  staysOpen: boolean
  /** The last whole cycle, from opening to opening; null before the second opening. */
  cycle: {
    fromS: number
    periodS: number
    onS: number
    /** Share of the cycle with light. */
    duty: number
    /** Mean over the cycle, dark part included. */
    meanLm: number
    /** When a pack would be empty if the cycle went on so; null on a supply without end. */
    emptyAboutS: number | null
  } | null
  /** When the fold-back first took current away; null: never. */
  foldsFromS: number | null
  /** Least share of the current that it left while the cut-out was closed; null without a fold-back. */
  leastShare: number | null
  /** While the cut-out was last closed. */
  shareAtEnd: number
}

/** What a run from full charge comes to, as far as rules judge it. */
export interface FullRun extends Pick<ModeRun, 'limit' | 'limits' | 'steppedDown' | 'steady'> {
  curves: Pick<PowerCurves, 'tS' | 'junctionMaxC' | 'plateMaxC' | 'plateMinC' | 'sinkC' | 'sinkW' | 'cellC'>
  watchedC: Float64Array
}

export interface ModeRun {
  id: string
  name: string
  /** What ended it. */
  limit: Limit
  /** What it passed, the earliest first; what ended it among them. */
  limits: TimedLimit[]
  /** When the step-down rule came, and to which share. */
  steppedDown: { atS: number; toShare: number } | null
  /** When the first driver could no longer hold its current; null: never. */
  sagsFromS: number | null
  /** When a driver first let go. */
  letGoFromS: number | null
  /** Time from switch-on until the light is a tenth of that at 30 s (ANSI/PLATO FL 1); null when the run ended for another reason. */
  fl1S: number | null
  /** Flux at 30 s, by which FL 1 counts. */
  lmAt30S: number | null
  /** Taken from the supply, Wh. */
  energyWh: number
  /** Once switched off at the end: half of the plate's mean rise is gone after so many seconds. */
  coolHalfS: number | null
  /**
   * At the mode's own current, the fold-back's share of it, and the charge of the start; null when it would pass
   * 400 °C, or the cut-out opens before.
   */
  steady: SteadyState | null
  /** After the step-down; null without one. */
  steadyAfter: SteadyState | null
  /** Largest current from the supply, A, and lowest voltage under load. */
  mostA: number
  leastV: number
  curves: PowerCurves
  energy: EnergyAccount
  plateFrames: PlateFrames
  /** Flux and junction temperature of each board at each moment of the curves. */
  boardLm: Float32Array[]
  boardJunctionC: Float32Array[]
  boardA: Float32Array[]
  hottestBoard: number
  boards: BoardAtEnd[]
  channels: ChannelAtStart[]
  /** Working points outside the emitters' tables, in words. */
  outside: string[]
  /** The same mode from a full pack, where this run began with less; by it heat is judged. Null: this run began full, or has not been judged. */
  full: FullRun | null
  /** What a protection reads, °C at each moment of the curves: at its place, with its lag; where neither is known, the plate's hottest cell. */
  watchedC: Float64Array
  /** Null on a lamp without one. */
  protection: ProtectionRun | null
  /** The same mode with the protection failed; by it heat is judged. Null on a lamp without one. */
  unprotected: ModeRun | null
  /** The same mode from full with cells that stay cool and the protection failed, where warm cells ended this run: what they hide. Else null. */
  pastCells: FullRun | null
  /**
   * The same mode from full with the protection failed, where the emitters' limit or the cells' ended it: what it comes to when nobody
   * switches it off, from switch-on to its end. Else null.
   */
  leftOn: FullRun | null
  /**
   * The same mode from full with every group on and the protection failed, as when a relay's contacts weld shut. Null where the mode has all of
   * them on, or the lamp has a mode like it.
   */
  welded: FullRun | null
  /** What ends the same mode from full in still air, the protection failed. Null: its air is still, its sink is a rated one, or it has not been judged. */
  airStops: Limit | null
}

interface SinkFacts {
  /** Plate to air at 60 K above it, W/K. */
  wattPerK: number
  plateKg: number
  finKg: number
  leftOutFins: number
  /** Between the fins; null in still air. */
  speedMS: number | null
  /** A sink by its data sheet, as the document has it; null: none. */
  rated: Extract<Sink, { kind: 'rated' }> | null
}

/** The mode that draws most, its sink without any exchange of air, left on from a full pack with the protection failed. */
export interface CoveredRun {
  modeId: string
  mode: string
  /** When the first junction passes its limit; null: never. */
  junctionS: number | null
  /** Hottest place of the plate, and the cover about it, °C. */
  plateC: number
  coverC: number
  /** What ended the run. */
  limit: Limit
}

export interface PowerReport {
  lamp: string
  ambientC: number
  /** What the document doesn't say and was taken instead. */
  assumed: string[]
  retained: RetainedLight
  sink: SinkFacts
  emitters: number
  channelCount: number
  modes: ModeRun[]
  /** What can happen, apart from what the runs met; rules and lists read it. */
  worst: WorstCase
  faults: FaultCurrents
  inrush: Inrush
  wiring: WireRun[]
  /** Null where nothing was run, or the sink is one by its data sheet. */
  covered: CoveredRun | null
  /** What switches the main wire, mode by mode. */
  switching: SwitchNeed[]
  /** What switches each group, and its currents mode by mode. */
  groups: GroupNeed[]
  powerUp: PowerUpItem[]
}
