// The peak intensity: the maximum of the map over direction, smoothed with the axial cone.
import { findDiscCells, type GridPlace } from '../num/gridDisc.ts'
import { T95 } from '../num/stats.ts'
import { type Folded, jackknife, meanOf } from '../run/batches.ts'
import type { Figure } from '../run/figure.ts'
import type { TallyShape } from '../run/types.ts'
import { isGrained } from './grain.ts'
import { cdPerLumen, coneSr, oneRayLm, type Profile } from './profile.ts'
import {
  findExtremeSpot,
  findOwnExtreme,
  findOwnSpots,
  measureInBatches,
  type Spot,
  windowCd,
  windowCellRad,
  windowGrid,
} from './windowMap.ts'

export interface Peak extends Figure {
  without: number[]
  thetaRad: number
  azimuthRad: number
  /** Of the azimuth mean. */
  around: boolean
  /** The greatest of all batches by themselves, which noise has helped; absent on the axis, which was not searched for. */
  own?: number
  /** How it was searched for; absent on the axis. */
  search?: Search
  /** A mean over a cell of the map that is wider than the cone; absent where the cone is resolved. */
  cell?: WideCell
}

/** What a cell of the map that is wider than the cone leaves open of a peak in it. */
export interface WideCell {
  rad: number
  /** By how much the darkest of the cells beside it is darker, cd. */
  dropCd: number
  /** All of them are darker than half of it: what lies in it may be as narrow as the cone. */
  alone: boolean
}

interface Search {
  /** How many places apart from one another were compared. */
  places: number
  /** What a ray adds to a place's intensity, cd: as its noise tells, where rays of unlike weight come together. */
  rayCd: number
  /** What a ray of the emitters' light that loses nothing adds to it, cd. */
  oneRayCd: number
}

/** What may be the peak: the axis, the brightest ring of the azimuth mean, and the brightest place of the window map. */
export interface PeakCandidates {
  axis: Peak
  ring: Peak
  spot: Peak | null
  /** Half angle of the cone that all of them are means over; places nearer to one another share much of their light. */
  coneRad: number
  /** The map's cells are wider than the cone and the beam has structure as fine as they are: a place brighter than the axis may lie in any of them. */
  grained: boolean
  /** The brightest wider places of the window, of a map as bright as so many candela; found once. */
  wide: (cd: number) => WidePlace[]
}

/** A mean over more directions than the cone's: less noise, by which a bright place shows that is as wide as that. Measured as a spot is, where it is asked for. */
export interface WidePlace extends Figure {
  thetaRad: number
  radiusRad: number
  own: number
  places: number
  /** The same mean about the axis. */
  centre: Figure
}

/** What may be the peak, cd and rad, by the forward rays: the axis, a ring, a place of the window map (null where the cone is too wide for it). */
export function findPeakCandidates(folded: Folded, profile: Profile): PeakCandidates {
  const without = profile.without.map((cd) => cd[0]!)
  const axis = { ...jackknife(profile.cd[0]!, without), without, thetaRad: 0, azimuthRad: 0, around: true }
  // Asked for by the forward axis, then by the joined one: what they differ by is nothing to the discs' width.
  let wide: WidePlace[] | null = null
  return {
    axis: { ...axis, se: Math.max(axis.se, profile.seCd[0]!) },
    ring: findBrightestRing(folded, profile),
    spot: findWindowSpot(folded),
    coneRad: folded.run.shape.axialConeHalfRad,
    grained: isCellWider(folded.run.shape) && isGrained(folded, profile, axis.value),
    wide(cd) {
      wide ??= findWidePlaces(folded, cd)
      return wide
    },
  }
}

/** A place that was searched for takes the place of another when it is brighter by so many standard errors: by chance it seems so in one of 1700 runs (Student's t of 15). Our choice. */
const TAKEN_SIGMAS = 4

/**
 * The axis is taken for the peak unless another place is surely brighter: the best place of the window map, or a ring of the azimuth mean, which also
 * sees beyond the window. One that only may be is a rival (`findRivals`), and ± holds both.
 */
export function choosePeak({ axis, ring, spot, coneRad }: PeakCandidates): Peak {
  const beats = (place: Peak, best: Peak) => {
    // By sixteen batches a spread may come out small by chance: noise is that of counts at least, of the rays that the two don't share.
    const alone = 1 - sharedNoise(place, best, coneRad)
    const counted = Math.sqrt(alone * Math.max(0, place.value) * (place.search?.oneRayCd ?? 0))
    const noise = Math.max(differenceSe(place, best, coneRad), counted)
    return place.value - best.value > TAKEN_SIGMAS * noise && standsOut(place, best, coneRad)
  }
  let best = beats(ring, axis) ? ring : axis
  if (spot && beats(spot, best)) best = spot
  return best
}

/**
 * One standard error of by how much a place is brighter than the chosen one, cd. Cones that overlap share rays, and with them noise: the spread of the
 * difference batch by batch. Of a chosen one that is joined with backward rays the forward rays are the share (se/forward se)², by inverse variances.
 */
function differenceSe(place: Peak, chosen: Peak, coneRad: number): number {
  const apart = Math.hypot(place.se, chosen.se)
  const forward = jackknife(chosen.value, chosen.without).se
  const shared = sharedNoise(place, chosen, coneRad)
  if (shared === 0 || !(forward > 0)) return apart
  const share = Math.min(1, (chosen.se / forward) ** 2)
  const paired = place.without.map((cd, b) => cd - share * (chosen.without[b] ?? 0))
  const se = Math.hypot(jackknife(0, paired).se, Math.sqrt(share * (1 - share)) * forward)
  // By sixteen batches a spread may come out small by chance; of rays that the two don't share it isn't.
  return Math.min(apart, Math.max(se, Math.sqrt(1 - shared) * place.se))
}

/** What two places of the same size share of their noise, 0 to 1: by the common area of their cones, and as far as the chosen one is known by forward rays. */
function sharedNoise(place: Peak, chosen: Peak, coneRad: number): number {
  const forward = jackknife(chosen.value, chosen.without).se
  const share = forward > 0 ? Math.min(1, (chosen.se / forward) ** 2) : 0
  return place.around !== chosen.around && chosen.thetaRad > 0
    ? 0
    : share * overlap(Math.abs(place.thetaRad - chosen.thetaRad) / (2 * coneRad))
}

/** Common area of two equal circles, as a share of one: by the distance of their middles over the diameter. */
const overlap = (x: number): number => (x < 1 ? (2 / Math.PI) * (Math.acos(x) - x * Math.sqrt(1 - x * x)) : 0)

/** A peak that is known less well than this (95 %) may be anywhere. Our choice. */
export const ILL_KNOWN = 0.1
/** A spot is darker than a ring for sure when it is by so many of its standard errors. */
const DARKER_SIGMAS = 2
/** A wider place shows a peak off the axis when it has at least this share of the chosen one's intensity. Our choice. */
const WIDE_SHARE = 0.85

/**
 * Other places that may be brighter than the chosen one: brighter by more than one standard error, and standing out of what noise makes of places as
 * bright as it; any, where it is ill known itself; a spot beside a ring, which is a mean over azimuth; a spot, where the window is brighter off
 * the axis by means over wider discs, too.
 */
export function findRivals(candidates: PeakCandidates, chosen: Peak): Peak[] {
  const { ring, spot, coneRad } = candidates
  const isRing = chosen.around && chosen.thetaRad > 0
  const ill = T95 * chosen.se > ILL_KNOWN * chosen.value
  const may = (p: Peak) => {
    if (Math.abs(p.thetaRad - chosen.thetaRad) <= coneRad / 2 && !(isRing && !p.around)) return false
    if (ill || (p.value - chosen.value > differenceSe(p, chosen, coneRad) && standsOut(p, chosen, coneRad))) return true
    if (p.around) return false
    if (isRing) return p.value + DARKER_SIGMAS * p.se > chosen.value
    if (candidates.grained) return true
    return chosen.thetaRad === 0 && candidates.wide(chosen.value).some((wide) => showsBrighter(wide, chosen))
  }
  const rivals = [ring, ...(spot ? [spot] : [])].filter((p) => p.thetaRad > 0 && may(p))
  // Of a rival beside an edge, what its cell leaves open would raise a peak that is even.
  return candidates.grained ? rivals : rivals.map(({ cell: _, ...rival }) => rival)
}

/** Noise makes one of all places as bright as this in so many of a hundred runs. Our choice. */
const BY_CHANCE = 0.05
/** 95 % of one normal value lie below so many standard errors. */
const ONE_SIDED = 1.645

/**
 * The value that the greatest of m normal values exceeds with the chance p, roughly: m (1 − Φ(z)) = p, with Φ's tail φ(z)/z (H. Cramér, Mathematical
 * Methods of Statistics, 1946, § 28.6; from memory).
 */
function greatestOf(m: number, chance: number): number {
  const tail = 2 * Math.log(Math.max(1, m) / chance)
  return Math.sqrt(Math.max(1, tail - Math.log(2 * Math.PI * Math.max(1, tail))))
}

/**
 * Brighter than the brightest of so many places all as bright as the chosen one would seem by noise. Counts are skewed, which adds (z² − 1)/6 of one
 * (E. A. Cornish and R. A. Fisher 1938; from memory).
 */
function standsOut(place: Peak, chosen: Peak, coneRad: number): boolean {
  if (place.own === undefined || !place.search) return true
  const { places, rayCd } = place.search
  // So near to the axis as to share its light lie a few of them only.
  const isNear = chosen.thetaRad === 0 && place.thetaRad < 2 * coneRad
  const nearer = isNear ? Math.min(places, (1 + place.thetaRad / coneRad) ** 2) : places
  const z = greatestOf(nearer, BY_CHANCE)
  const alone = Math.sqrt(1 - sharedNoise(place, chosen, coneRad))
  const noise = alone * Math.hypot(z * Math.sqrt(Math.max(0, chosen.value) * rayCd), ONE_SIDED * chosen.se)
  return place.own > chosen.value + noise + ((z * z - 1) / 6) * rayCd
}

/**
 * It lies off the axis and is brighter than the same disc about the axis by more than noise most often makes of so many discs, by its halves as well.
 * What all batches and the axis tell comes first: the halves are searched only for what that leaves open.
 */
function showsBrighter(wide: WidePlace, chosen: Figure): boolean {
  const { radiusRad, own, places, centre } = wide
  const sigmas = greatestOf(places, 1)
  if (own < WIDE_SHARE * chosen.value || !(own - centre.value > sigmas * centre.se)) return false
  const { value, se } = wide
  if (wide.thetaRad < radiusRad / 2) return false
  const rayCd = value > 0 ? se ** 2 / value : 0
  const noise = Math.hypot(Math.sqrt(Math.max(0, centre.value) * rayCd), centre.se)
  return own - centre.value > sigmas * noise && value - centre.value > Math.hypot(se, centre.se)
}

/** The brightest ring of the one half of the batches, measured in the other, and the other way about. */
function findBrightestRing({ run }: Folded, profile: Profile): Peak {
  const n = profile.without.length
  const inBatch = (b: number, j: number) => n * profile.cd[j]! - (n - 1) * profile.without[b]![j]!
  const values = new Array<number>(n)
  let theta = 0
  for (const parity of [0, 1]) {
    const found = new Float64Array(profile.cd.length)
    for (let b = parity; b < n; b += 2)
      for (let j = 0; j < found.length; j++) found[j] = (found[j] ?? 0) + inBatch(b, j)
    const best = found.indexOf(found.reduce((a, b) => Math.max(a, b)))
    for (let b = 1 - parity; b < n; b += 2) values[b] = inBatch(b, best)
    theta += profile.thetaRad[best]! / 2
  }
  const own = profile.cd.reduce((a, b) => Math.max(a, b))
  const at = profile.cd.indexOf(own)
  const search = {
    places: Math.min(profile.cd.length, Math.PI / (2 * run.shape.axialConeHalfRad)),
    rayCd: own > 0 ? profile.seCd[at]! ** 2 / own : 0,
    oneRayCd: oneRayLm(run) * cdPerLumen(run.shape, at - 1),
  }
  const place = { thetaRad: theta, azimuthRad: 0, around: true }
  return { ...meanOf(values), without: leaveOneOutMeans(values), ...place, own, search }
}

/** Means of all but one. */
function leaveOneOutMeans(values: readonly number[]): number[] {
  const sum = values.reduce((a, b) => a + b, 0)
  return values.map((v) => (sum - v) / (values.length - 1))
}

/** Null where the cone is so wide that the window can't hold it: the azimuth mean then has to do. */
function findWindowSpot(folded: Folded): Peak | null {
  const { shape } = folded.run
  const cone = shape.axialConeHalfRad
  const allowed = insideWindow(shape, cone)
  if (!allowed) return null
  const spot = findExtremeSpot(folded, cone, { allowed })
  const cell = readWideCell(folded, spot.place)
  const oneRayCd = oneRayLm(folded.run) / coneSr(Math.max(cone, windowCellRad(shape) / Math.sqrt(Math.PI)))
  return {
    value: spot.value,
    se: spot.se,
    without: leaveOneOutMeans(spot.inBatch),
    ...directionOf(shape, spot.place),
    own: findOwnExtreme(folded, cone, { allowed }),
    search: {
      places: Math.min(shape.windowN ** 2, ((shape.fineHalfRad - cone) / cone) ** 2),
      rayCd: Math.max(spot.value > 0 ? spot.se ** 2 / spot.value : 0, oneRayCd),
      oneRayCd,
    },
    ...(cell && { cell }),
  }
}

/** A peak is a mean over a cell of the window where that is wider than the cone. */
export const isCellWider = (shape: TallyShape): boolean => windowCellRad(shape) > 2 * shape.axialConeHalfRad

function readWideCell(folded: Folded, place: GridPlace): WideCell | null {
  const { shape } = folded.run
  if (!isCellWider(shape)) return null
  const cd = windowCd(folded, folded.all)
  const n = shape.windowN
  const [row, column] = [Math.floor(place.row), Math.floor(place.column)]
  const own = cd[n * row + column] ?? 0
  const beside = [
    [row - 1, column],
    [row + 1, column],
    [row, column - 1],
    [row, column + 1],
  ].flatMap(([r = -1, c = -1]) => (r >= 0 && r < n && c >= 0 && c < n ? (cd[n * r + c] ?? 0) : []))
  return {
    rad: windowCellRad(shape),
    dropCd: Math.max(0, ...beside.map((other) => own - other)),
    alone: beside.every((other) => other < own / 2),
  }
}

/** Wider discs: of so many cones, and so wide that so many rays fall into one. */
const WIDE = 3
const WIDE_RAYS = 400

function findWidePlaces(folded: Folded, cd: number): WidePlace[] {
  const { shape } = folded.run
  const cone = shape.axialConeHalfRad
  const inCone = (cd * coneSr(cone)) / oneRayLm(folded.run)
  const byRays = inCone > 0 ? Math.max(1, Math.sqrt(WIDE_RAYS / inCone)) : 1
  const middle = { column: shape.windowN / 2, row: shape.windowN / 2 }
  return [WIDE, byRays].flatMap((cones) => {
    const radiusRad = Math.min(cones * cone, 0.4 * shape.fineHalfRad)
    const allowed = insideWindow(shape, radiusRad)
    if (!allowed) return []
    let measured: Spot | null = null
    const spot = () => {
      measured ??= findExtremeSpot(folded, radiusRad, { allowed })
      return measured
    }
    const wide: WidePlace = {
      get value() {
        return spot().value
      },
      get se() {
        return spot().se
      },
      get thetaRad() {
        return directionOf(shape, spot().place).thetaRad
      },
      radiusRad,
      own: findOwnExtreme(folded, radiusRad, { allowed }),
      places: (shape.fineHalfRad / radiusRad - 1) ** 2,
      centre: meanOf(measureInBatches(folded, findDiscCells(windowGrid(shape), middle, radiusRad), () => true)),
    }
    return [wide]
  })
}

/** Cells of the window about which a cone lies in it; null where it is too wide for that. */
function insideWindow(shape: TallyShape, cone: number): ((row: number, column: number) => boolean) | null {
  const inner = shape.fineHalfRad - cone
  if (inner < shape.fineHalfRad / 2) return null
  const cell = windowCellRad(shape)
  const middle = shape.windowN / 2
  return (row, column) => Math.hypot(row + 0.5 - middle, column + 0.5 - middle) * cell <= inner
}

function directionOf(shape: TallyShape, { column, row }: GridPlace): Direction {
  const cell = windowCellRad(shape)
  const x = (column - shape.windowN / 2) * cell
  const y = (row - shape.windowN / 2) * cell
  return { thetaRad: Math.hypot(x, y), azimuthRad: Math.atan2(y, x), around: false }
}

export type Direction = Pick<Peak, 'thetaRad' | 'azimuthRad' | 'around'>

/**
 * Where off the axis the peak may be by all forward rays, most likely first: the ring of the greatest lower end, and the brightest places of the
 * window by the cone and by a wider one, so many of each (3 by default). Noise makes some of them: backward tracing tells.
 */
export function findBrightPlaces(folded: Folded, { thetaRad, cd, seCd }: Profile, candidates?: number): Direction[] {
  const { shape } = folded.run
  const cone = shape.axialConeHalfRad
  const lowEnds = cd.map((v, j) => {
    const theta = thetaRad[j]!
    return theta > cone / 2 && theta <= Math.PI / 2 ? v - seCd[j]! : Number.NEGATIVE_INFINITY
  })
  const ring = lowEnds.indexOf(lowEnds.reduce((a, b) => Math.max(a, b)))
  const spots = [WIDE * cone, cone].map((radius) => {
    const allowed = insideWindow(shape, radius)
    return allowed
      ? findOwnSpots(folded, radius, { allowed, ...(candidates && { candidates }) }).map((place) =>
          directionOf(shape, place),
        )
      : []
  }) as [Direction[], Direction[]]
  const rings = [{ thetaRad: thetaRad[ring]!, azimuthRad: 0, around: true }]
  const inTurn = spots[1].length >= spots[0].length ? spots[1] : spots[0]
  return rings.concat(inTurn.flatMap((_, i) => [...spots[0].slice(i, i + 1), ...spots[1].slice(i, i + 1)]))
}
