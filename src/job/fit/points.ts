// The readings that a fit is held against: where each was read, what it says, and what it leaves open by itself and together with others.
import type { AxisSet, GridSet, LineSet, ReadingSet, Readings } from '../../lamp/readings.ts'
import type { SharedTerm } from '../../readings/agreement.ts'
import { PLACE_MM, WALL_MM, wallAngle } from '../../readings/line.ts'
import { meterDoubt, readingDoubt } from '../../readings/meter.ts'
import { ownDoubt, pictureTerms } from '../../readings/photo/terms.ts'
import { thinned } from '../../readings/photo/thinned.ts'

/** A place that lux are predicted at. */
export interface Spot {
  xMm: number
  yMm: number
  /** From the lamp's front. */
  distanceMm: number
  faces: 'wall' | 'lamp'
  /** On the wall, whose distance may be another than what is written down. */
  onWall: boolean
  /** Index into the states of the lamp. */
  state: number
}

/** The light that a set was read in: a mode's moment; null: the light that the lamp is traced with. */
export type LampState = { mode: string; seconds: number } | null

export interface FitPoint extends Spot {
  setId: string
  row: number
  /** Without stray light. */
  lx: number
  /** Of the reading by itself, lx; the doubt of its place comes on top, by the slope there. */
  u: number
  placeMm: number
}

type LuxSet = LineSet | GridSet | AxisSet
const isLuxSet = (set: ReadingSet): set is LuxSet => set.kind === 'line' || set.kind === 'grid' || set.kind === 'axis'

export interface FitReadings {
  points: FitPoint[]
  states: LampState[]
  sets: LuxSet[]
}

/** Light is read so long after switch-on where a set doesn't say: ANSI/PLATO FL 1. */
const AFTER_S = 30

/** Points of all sets that give lux at places, in their order. */
export function fitPoints(readings: Readings): FitReadings {
  const sets = readings.sets.filter(isLuxSet).filter((set) => set.rows.length > 0)
  const states: LampState[] = []
  const stateOf = (set: LuxSet): number => {
    const state = set.mode === undefined ? null : { mode: set.mode, seconds: set.afterS ?? AFTER_S }
    const known = states.findIndex((s) => s?.mode === state?.mode && s?.seconds === state?.seconds)
    return known >= 0 ? known : states.push(state) - 1
  }
  const points = sets.flatMap((set) => {
    const state = stateOf(set)
    return placesOf(set).map(({ lx: read, own, row, ...place }) => {
      const lx = Math.max(0, read - (set.strayLx ?? 0))
      const aside = wallAngle(Math.hypot(place.xMm, place.yMm), place.distanceMm / 1000)
      const u = own ?? readingDoubt(lx, set.meter ?? readings.meter, place.faces === 'wall' ? aside : 0)
      return {
        ...place,
        setId: set.id,
        row,
        state,
        lx,
        u,
        placeMm: set.kind === 'axis' ? 0 : (set.placeDoubtMm ?? PLACE_MM),
      }
    })
  })
  return { points, states, sets }
}

/** `own`: what the set itself says is open in the reading alone, lx; null: nothing. */
type Place = Omit<Spot, 'state'> & { lx: number; row: number; own: number | null }

function placesOf(set: LuxSet): Place[] {
  if (set.kind === 'axis')
    return set.rows.map(({ distanceM, lx }, row) => ({
      xMm: 0,
      yMm: 0,
      distanceMm: 1000 * distanceM,
      faces: 'lamp',
      onWall: false,
      lx,
      row,
      own: null,
    }))
  const wall = { distanceMm: 1000 * set.distanceM, faces: set.faces, onWall: true }
  if (set.kind === 'grid')
    return thinned(set).flatMap((row) => {
      const at = set.rows[row]
      return at ? [{ ...wall, xMm: at.xMm, yMm: at.yMm, lx: at.lx, row, own: ownDoubt(at) }] : []
    })
  const across = set.along === 'across'
  return set.rows.map(({ atMm, lx }, row) => ({
    ...wall,
    xMm: across ? atMm : 0,
    yMm: across ? 0 : atMm,
    lx,
    row,
    own: null,
  }))
}

/** Change of the logarithm of what is predicted for a millimetre to the right and up. */
export interface Slopes {
  perXMm: number
  perYMm: number
}

/**
 * What moves the predictions of many points together by one standard uncertainty, as shares of each: every meter's scale, every set's distance and the
 * zero of its places, and what all of a picture has in common.
 */
export function sharedShares(
  { points, sets }: FitReadings,
  readings: Readings,
  slopes: readonly Slopes[],
): SharedTerm[] {
  const terms: SharedTerm[] = []
  const meters = new Map<string, Set<string>>()
  for (const set of sets) {
    const meter = JSON.stringify(set.meter ?? readings.meter ?? null)
    meters.set(meter, new Set([...(meters.get(meter) ?? []), set.id]))
  }
  const term = (of: (p: FitPoint, i: number) => number): void => void terms.push(points.map(of))
  for (const [meter, ids] of meters) {
    const { scale } = meterDoubt(JSON.parse(meter) ?? undefined)
    term((p) => (ids.has(p.setId) ? scale : 0))
  }
  for (const set of sets) {
    const tape = set.distanceDoubtMm ?? (set.kind === 'axis' ? PLACE_MM : WALL_MM)
    term((p) => (p.setId === set.id ? (2 * tape) / p.distanceMm : 0))
    if (set.kind === 'axis') continue
    if (set.kind === 'grid')
      for (const shares of pictureTerms(set)) term((p) => (p.setId === set.id ? (shares[p.row] ?? 0) : 0))
    const zeroMm = zeroDoubtMm(set)
    for (const perMm of ['perXMm', 'perYMm'] as const)
      if (points.some((p, i) => p.setId === set.id && slopes[i]?.[perMm] !== 0))
        term((p, i) => (p.setId === set.id ? zeroMm * (slopes[i]?.[perMm] ?? 0) : 0))
  }
  return terms
}

/** Where the beam is brightest is found to so much of the widest reading. Our choice. */
const BRIGHTEST = 0.04

/** How far the zero of a set may lie from where it should be, mm. */
function zeroDoubtMm(set: LineSet | GridSet): number {
  const placeMm = set.placeDoubtMm ?? PLACE_MM
  if (set.aimed === 'axis') return placeMm
  const widest = set.kind === 'line' ? set.rows.map((r) => r.atMm) : set.rows.map((r) => Math.hypot(r.xMm, r.yMm))
  return Math.hypot(placeMm, BRIGHTEST * Math.max(...widest.map(Math.abs)))
}
