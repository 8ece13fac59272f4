// The beam sheet: everything a screen or a terminal shows of a run, as plain data that crosses to another thread.
import type { Finding } from '../../checks/finding.ts'
import type { EngineChoice, Graphics } from '../../engine/choice.ts'
import type { MaterialRisk } from '../../hazard/risks.ts'
import type { SunAtTilt } from '../../hazard/sun.ts'
import type { Element } from '../../lamp/schema.ts'
import type { Chromaticity } from '../../library/colour.ts'
import type { LensesLeftOut } from '../../library/lensSystem.ts'
import type { Figure, GridMap, HotSpot } from '../../run/figure.ts'
import type { MapFrame } from '../../run/types.ts'
import type { LightTraced } from '../power/lightTraced.ts'
import type { BeamColour } from './colour.ts'

export { ASKED_FOR, ENGINE_CHOICES, type EngineChoice } from '../../engine/choice.ts'
export type { MaterialRisk } from '../../hazard/risks.ts'
export type { SunAtTilt } from '../../hazard/sun.ts'
export type { Figure, GridMap, HotSpot } from '../../run/figure.ts'

/** Names carry their unit; spill, efficiency, contrast and evenness are shares of 1. */
export const FIGURE_NAMES = [
  'emittedLm',
  'fluxOutLm',
  'efficiency',
  'axialIntensityCd',
  'peakIntensityCd',
  'beamAngleDeg',
  'fieldAngleDeg',
  'halfFluxAngleDeg',
  'ninetyFluxAngleDeg',
  'patternContrast',
  'spillOutsideBeam',
  'spillOutsideField',
  'spillOutsideTarget',
  'beamDistanceM',
  'targetCentreLx',
  'targetMeanLx',
  'targetMinLx',
  'targetEvenness',
  'inverseSquareFromM',
  'lensEvenness',
  'lensVariation',
  'faceEvenness',
  'faceVariation',
] as const
export type FigureName = (typeof FIGURE_NAMES)[number]

export type HotSpotName = 'lens' | 'wall' | 'face' | 'front' | 'sunInside'

/** What is shown of each comparison. */
export const COMPARED_FIGURES = ['axialIntensityCd', 'fluxOutLm', 'beamAngleDeg'] as const satisfies FigureName[]

export interface Variant {
  name: 'as designed' | 'without lens' | 'without tunnel' | 'bare emitters'
  figures: Partial<Record<FigureName, Figure>>
  rays: number
  findings?: string
  /** Of the one without lens. */
  leftOut?: LensesLeftOut
}

/** Traced paths for the views: vertices of path i are xyz[3·start[i] … 3·start[i+1]). */
export interface Paths {
  start: Uint32Array
  xyz: Float32Array
  /** Index into FATES of each path. */
  fate: Uint8Array
  /** Emitter it started from, in placeEmitters order. */
  emitter: Uint32Array
}

export interface ProfilePlot {
  thetaDeg: Float32Array
  /** Azimuth mean, smoothed with the axial cone. */
  cd: Float32Array
  seCd: Float32Array
  /** Beam and field angle by direction, when the beam isn't round. */
  byDirection: { azimuthDeg: number; beamDeg: number; fieldDeg: number }[]
}

/** A figure by itself from either end, and how far apart they are in standard errors of their difference. */
export interface ForwardBackward {
  /** profileCd: the profile at `thetaDeg`. */
  figure: FigureName | 'profileCd'
  thetaDeg?: number
  forward: Figure
  backward: Figure
  apart: number
}

/** How well a trace knows the axial intensity. */
export interface Reached {
  /** The wanted share of it, at 95 %. */
  wanted: number
  /** ± at 95 % as a share: of the axial intensity, or of the brightest ring of the profile where that is brighter. */
  share: number
  of: 'axis' | 'peak'
  /** About so many rays in all bring the wanted share. */
  rays: number
}

/** What a map is of, and where it lies. */
interface MappedPiece {
  name: string
  kind: Element['kind']
  frame: MapFrame
}

/** Light on an element, on both its faces together. */
interface ElementLight extends MappedPiece {
  map: GridMap
  /** Null: no light on it. */
  spot: HotSpot | null
}

export interface Sheet {
  lamp: string
  seed: number
  rays: number
  seconds: number
  raysPerSecond: number
  threads: number
  engine: 'cpu' | 'gpu'
  /** The graphics device, or why the processor traces instead. */
  engineWhy: string
  /** Settled: whole; the sun and the comparisons, where they are wanted, have come too. */
  state: 'rough' | 'settling' | 'settled'
  reached: Reached | null
  /** Where the map over direction has cells wider than the axial cone: how wide they are, and whether the peak is a mean over one. */
  wideCells?: { deg: number; peak: boolean }
  /** What is read off single exit rays (the inverse square's distance, the hottest place in front) rests on so many of the rays. */
  exitsFrom: number
  /** Which light all of its lumens are. */
  light: LightTraced
  figures: Partial<Record<FigureName, Figure>>
  /** What more rays leave of a figure's standard error, in its unit: bins, tables, cells of the map. */
  floors?: Partial<Record<FigureName, number>>
  /** Why a figure can't be had. */
  absent: Partial<Record<FigureName | HotSpotName, string>>
  /** Share of the emitted flux by fate; sums to 1. Delivered light is split by angle. */
  ledger: { line: string; name: string; share: Figure; lm: number; w: number }[]
  /** Of an assembled lamp: what each stretch, step, element and gap took, whichever way the light ran; absent or empty for others. */
  parts?: Sheet['ledger']
  profile: ProfilePlot
  /** Intensity over direction (θ cos φ, θ sin φ), deg, near the axis. */
  directionMap: GridMap
  /** The same beyond that map: columns azimuth from +x, rows the angle from the axis (beam/sphereMap.ts). */
  sphereMap?: GridMap
  /** Of all emitters together, each by the lumens it was traced with; null: none gives light. */
  emittedColour: Chromaticity | null
  /** Colour over the angle from the axis; null or absent while too few rays tell. */
  beamColour?: BeamColour | null
  /** Illuminance on the target plane. */
  targetMap: GridMap
  lensMap: GridMap | null
  /** Of an assembled lamp: what `lensMap` and the hot spot `lens` are of, and where the map lies. */
  mapped?: MappedPiece
  /** The other elements, in their order from the face; absent: none. */
  elements?: ElementLight[]
  /** x: way round in mm at the mid radius; y: z, or of an assembled tunnel the way along walls and steps from the inlet. */
  wallMap: GridMap | null
  faceMap: GridMap
  hotSpots: Partial<Record<HotSpotName, HotSpot>>
  sun: SunAtTilt[]
  risks: MaterialRisk[]
  findings: Finding[]
  /** Filled in the background. */
  variants: Variant[]
  paths: Paths
  /** Figures with a forward and a backward estimate; the sheet joins them by their variances. */
  forwardBackward: ForwardBackward[]
  /** True when an inner crossing of the 50 % or 10 % level exists. */
  patterned: boolean
  /** Direction of the peak; `around`: a ring about the axis, or the axis itself. */
  peakAt?: { thetaDeg: number; azimuthDeg: number; around: boolean }
}

/** Which engine may trace on the page, and the drill that takes the graphics device away (engine/choice.ts). */
export interface EngineOrder {
  choice: EngineChoice
  loseAfter?: number
  /** Threads that read first sheets (job/beam/firstSheet.ts); absent: as many as the processors make worth while. */
  readingThreads?: number
}

/** What is waited for: by default the beam, the sun beside it, then the comparisons. */
export type TraceFirst = 'beam' | 'sun' | 'comparisons'

/** Options of a trace. */
export interface JobOptions {
  seed: number
  /** Stop at so many rays … */
  maxRays: number
  /** … or after so many seconds of tracing … */
  maxSeconds?: number
  /** … or as soon as the axial intensity is known to this share, at 95 %. */
  precision: number
  /** Plain random numbers instead of the low-discrepancy sequence. */
  plainRandom?: boolean
  /** Read the run only at its end: no sheet is shown on the way, and reading takes time from tracing. */
  onlyLast?: boolean
  /** The graphics device, which takes the rounds once it has agreed with the processor on a few rays; absent: the processor alone. */
  graphics?: Graphics | undefined
  /** No ray before it is known whether that device traces, so that the same order gives the same sheet. */
  graphicsFirst?: boolean
  /** If it doesn't, the job fails in words. */
  graphicsOnly?: boolean
  /** Also trace the variants and the sun. */
  background: boolean
  /** False: the sun without the variants, for who doesn't show them. */
  variants?: boolean
  /** What comes first. The settled sheet is the same. */
  first?: TraceFirst | undefined
}

/** A graphics device was insisted on and can't be used; its message says why. */
export class NoDevice extends Error {}
