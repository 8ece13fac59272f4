// What to read, where, and what the meter will show there: the lamp as drawn, traced backwards from each place.
import type { Meter } from '../../lamp/readings.ts'
import type { Lamp } from '../../lamp/schema.ts'
import type { Sheet } from '../beam/sheet.ts'
import { runOfMode } from '../power/light.ts'
import { valueAt } from '../power/modeRun.ts'
import type { LampState, Spot } from './points.ts'
import { type Predictor, statesFlux, unpredictable } from './predict.ts'

/** What a plan takes of the sheet. */
export type PlannedFigures = Pick<Sheet, 'figures' | 'findings' | 'risks'>

export interface PlanOptions {
  /** Distance of the wall; null: chosen by the lamp. */
  wallM: number | null
  /** Null: the light that the lamp is traced with. */
  mode: string | null
  meter?: Meter | undefined
  seed: number
  /** Rays of each place. */
  rays: number
}

export interface PlannedPlace {
  xMm: number
  yMm: number
  distanceM: number
  lx: number
  se: number
}

export interface MeasuringPlan {
  lamp: string
  wallM: number
  /** From here on lux times distance squared is right within 1 %, m; null: not known. */
  inverseSquareM: number | null
  /** The wall stands beyond it. */
  wallIsFar: boolean
  mode: string | null
  /** When to read after switch-on, s. */
  afterS: number
  /** Light at times after switch-on over that at 30 s; empty: no mode. */
  warmUp: { atS: number; share: number }[]
  /** On the wall, across and up, meter flat on it. */
  across: PlannedPlace[]
  up: PlannedPlace[]
  /** On the axis, meter turned to the lamp. */
  axis: PlannedPlace[]
  leastLx: number
  mostLx: number
  /** Places on the axis that were left out: hotter than a hand or a meter should be held in. */
  tooHot: number
  /** Nearer than this light hurts bare skin, m; 0: nowhere. */
  skinM: number
  /** Places on the axis that were left out because a hand would hold the meter there. */
  tooNear: number
  /** What burns at the wall's distance, and up to where, m; the farthest first. */
  burns: { material: string; toM: number }[]
  /** From here on nothing of the danger sheet's table burns, m; 0: nothing does anywhere. */
  burnsToM: number
  /** Places over the meter's range. */
  overRange: number
  /** As drawn: what the readings will be held against. */
  drawn: { peakCd: number | null; beamDeg: number | null; fieldDeg: number | null; lumens: number | null }
  /** Titles of the lamp's severe findings, in both systems of units. */
  severe: string[]
}

export type PlanOutcome = { ok: true; plan: MeasuringPlan } | { ok: false; why: string }

/** A room: the wall no nearer and no farther, m. Our choice. */
const WALL_M = { least: 3, most: 12 }
/** Twice full sunlight (97,132 lx, ASTM G173-03, check values 1.9): nothing is read where it is brighter. Our choice. */
const HOT_LX = 2e5
/** ANSI/PLATO FL 1: light is read 30 s after switch-on (check values 1.42, 1.44). */
const AFTER_S = 30
/** Places in half beam angles, then in half field angles. Our choice: close where the light falls. */
const IN_BEAM = [0.25, 0.5, 0.75, 1, 1.3] as const
const IN_FIELD = [1, 1.4] as const
const AXIS = [0.5, 1, 2] as const
const WARM_UP_S = [30, 60, 120, 300, 600, 1200] as const

/** `sheet`: of the lamp, traced well enough for its angles. */
export async function makePlan(
  predict: Predictor['predict'],
  lamp: Lamp,
  { figures, findings, risks }: PlannedFigures,
  options: PlanOptions,
): Promise<PlanOutcome> {
  const why = unpredictable(lamp)
  if (why) return { ok: false, why }
  const clear = clearDistances(risks)
  const inverseSquareM = figures.inverseSquareFromM?.value ?? null
  const wallM =
    options.wallM ??
    nearestNice(Math.max(clear.burnsToM, Math.min(WALL_M.most, Math.max(WALL_M.least, inverseSquareM ?? 0))))
  const state: LampState = options.mode === null ? null : { mode: options.mode, seconds: AFTER_S }
  const offsets = offsetsOf(figures, wallM)
  const both = [...offsets.map((x) => -x).reverse(), 0, ...offsets]
  const onWall = { distanceMm: 1000 * wallM, faces: 'wall' as const, onWall: true, state: 0 }
  const distances = AXIS.map((share) => nearestNice(share * wallM))
  const spots: Spot[] = [
    ...both.map((xMm) => ({ ...onWall, xMm, yMm: 0 })),
    ...both.map((yMm) => ({ ...onWall, xMm: 0, yMm })),
    ...distances.map((m) => ({
      xMm: 0,
      yMm: 0,
      distanceMm: 1000 * m,
      faces: 'lamp' as const,
      onWall: false,
      state: 0,
    })),
  ]
  const { lx, se } = await predict({
    lamp,
    fluxLm: statesFlux(lamp, [state]),
    spots,
    seed: options.seed,
    rays: spots.map(() => options.rays),
  })
  const places = spots.map((s, i) => ({
    xMm: s.xMm,
    yMm: s.yMm,
    distanceM: s.distanceMm / 1000,
    lx: lx[i] ?? 0,
    se: se[i] ?? 0,
  }))
  const cool = places.filter((p) => p.lx <= HOT_LX)
  const axisFrom = 2 * both.length
  const isNear = (p: PlannedPlace) => places.indexOf(p) >= axisFrom && p.distanceM <= clear.skinM
  const safe = cool.filter((p) => !isNear(p))
  const lit = safe.flatMap((p) => (p.lx > 0 ? [p.lx] : []))
  const maxLx = options.meter?.maxLx
  return {
    ok: true,
    plan: {
      lamp: lamp.name,
      wallM,
      inverseSquareM,
      wallIsFar: inverseSquareM !== null && wallM >= inverseSquareM,
      mode: options.mode,
      afterS: AFTER_S,
      warmUp: options.mode === null ? [] : warmUpOf(lamp, options.mode),
      across: places.slice(0, both.length).filter((p) => safe.includes(p)),
      up: places.slice(both.length, 2 * both.length).filter((p) => safe.includes(p)),
      axis: places.slice(axisFrom).filter((p) => safe.includes(p)),
      tooHot: places.length - cool.length,
      skinM: clear.skinM,
      tooNear: cool.length - safe.length,
      burns: clear.burns.filter((b) => b.toM >= wallM),
      burnsToM: clear.burnsToM,
      leastLx: lit.length > 0 ? Math.min(...lit) : 0,
      mostLx: Math.max(0, ...lit),
      overRange: maxLx === undefined ? 0 : safe.filter((p) => p.lx > maxLx).length,
      drawn: {
        peakCd: figures.peakIntensityCd?.value ?? null,
        beamDeg: figures.beamAngleDeg?.value ?? null,
        fieldDeg: figures.fieldAngleDeg?.value ?? null,
        lumens: figures.fluxOutLm?.value ?? null,
      },
      severe: findings.filter((f) => f.severity === 'severe').map((f) => f.inBoth?.title ?? f.title),
    },
  }
}

/** By the danger sheet's table, upper ends: bare skin comes first in it, then what burns. */
function clearDistances(risks: PlannedFigures['risks']) {
  const [skin, ...materials] = risks
  const burns = materials
    .map((r) => ({ material: r.material, toM: r.clearDistanceMm / 1000 }))
    .filter((b) => b.toM > 0)
    .sort((a, b) => b.toM - a.toM)
  return { skinM: (skin?.clearDistanceMm ?? 0) / 1000, burns, burnsToM: burns[0]?.toM ?? 0 }
}

/** Places along the wall on one side, mm, rising, each at least a hand's breadth of the beam from the next. */
function offsetsOf(figures: PlannedFigures['figures'], wallM: number): number[] {
  const halfRad = (deg: number | undefined) => (deg === undefined ? null : (deg * Math.PI) / 360)
  const flux = halfRad(figures.halfFluxAngleDeg?.value) ?? 0.1
  const beam = Math.min(halfRad(figures.beamAngleDeg?.value) ?? flux, STEEPEST_RAD)
  const field = Math.min(halfRad(figures.fieldAngleDeg?.value) ?? 2 * beam, STEEPEST_RAD)
  const at = (rad: number) => 1000 * wallM * Math.tan(Math.min(rad, STEEPEST_RAD))
  const wanted = [...IN_BEAM.map((share) => at(share * beam)), ...IN_FIELD.map((share) => at(share * field))]
  const stepMm = at(beam) > 400 ? 50 : 10
  const round = wanted.map((mm) => Math.max(stepMm, Math.round(mm / stepMm) * stepMm)).sort((a, b) => a - b)
  return [...new Set(round)].filter(
    (mm, i, all) => i === 0 || mm - (all[i - 1] ?? 0) >= Math.max(stepMm, 0.1 * at(beam)),
  )
}

/** Further aside a wall is no place to read. */
const STEEPEST_RAD = Math.PI / 4

/** 3, 3.5, 4 … 10, 11, 12 m: what a tape is read at. */
const nearestNice = (m: number): number => (m < 10 ? Math.ceil(2 * m - 1e-9) / 2 : Math.ceil(m - 1e-9))

function warmUpOf(lamp: Lamp, mode: string): MeasuringPlan['warmUp'] {
  const run = runOfMode(lamp, mode)
  if (!run) return []
  const { tS, lm } = run.curves
  const endS = tS[tS.length - 1] ?? 0
  const at30 = valueAt(tS, lm, AFTER_S)
  return at30 > 0 ? WARM_UP_S.filter((s) => s <= endS).map((atS) => ({ atS, share: valueAt(tS, lm, atS) / at30 })) : []
}
