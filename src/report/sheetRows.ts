// The beam sheet's tables in rows of words, the same on the terminal and in the book. Names are as in the document: escape them.

import {
  COMPARED_FIGURES,
  FIGURE_NAMES,
  type Figure,
  type FigureName,
  type HotSpot,
  type HotSpotName,
  type Sheet,
} from '../job/beam/sheet.ts'
import { allInSystem, distanceText, sizeText } from '../num/quantity.ts'
import { T95 } from '../num/stats.ts'
import { M_PER_FOOT, type UnitSystem } from '../num/unitSystem.ts'
import { FIGURE_WORDS, HOT_SPOT_WORDS, hotSpotWords, LANDS_WORDS, variantWords } from './figures.ts'
import { durationDown, fixed, placeText, short, shortUp, whole, withError } from './numbers.ts'

const unitText = (name: FigureName): string => {
  const { unit } = FIGURE_WORDS[name]
  return unit === 'deg' ? '°' : unit
}

/** The beam angle of a patterned beam can jump from ring to ring: the cones of half and nine tenths of the light come first. */
function figureOrder({ patterned }: Sheet): readonly FigureName[] {
  const late: readonly FigureName[] = patterned ? ['beamAngleDeg', 'fieldAngleDeg'] : []
  const order = FIGURE_NAMES.filter((name) => !late.includes(name))
  return late.length > 0 ? order.toSpliced(order.indexOf('ninetyFluxAngleDeg') + 1, 0, ...late) : order
}

/** No part of a lamp is known to more; those as traced stand in JSON. */
const FIGURE_DIGITS = 4

/** Name, value, ±, unit. */
export const figureRows = (s: Sheet, system: UnitSystem = 'metric'): string[][] =>
  figureOrder(s).flatMap((name) => {
    const figure = s.figures[name]
    if (!figure) return []
    const isFeet = FIGURE_WORDS[name].unit === 'm' && system === 'inch'
    const times = FIGURE_WORDS[name].unit === '%' ? 100 : isFeet ? 1 / M_PER_FOOT : 1
    const { value, error } = withError(figure, times, FIGURE_DIGITS)
    return [[FIGURE_WORDS[name].name, value, error, isFeet ? 'ft' : unitText(name)]]
  })

export const PATTERNED_NOTE =
  'The beam is patterned: it falls through half or a tenth of its peak more than once, so beam and field angle can jump from ring to ring. The half-flux angle comes first.'

/** What, forward, ±, "forward", backward, ±, "backward", unit and how far apart. */
export function forwardBackwardRows(s: Sheet): string[][] {
  const words = (f: Figure) => [withError(f).value, withError(f).error]
  return s.forwardBackward.map(({ figure, thetaDeg, forward, backward, apart }) => [
    figure === 'profileCd' ? `Profile at ${fixed(thetaDeg ?? 0, 2)}°` : FIGURE_WORDS[figure].name,
    ...words(forward),
    'forward',
    ...words(backward),
    'backward',
    `${figure === 'profileCd' ? 'cd' : unitText(figure)}, ${apart.toFixed(1)} standard errors apart`,
  ])
}

/** Name, share, ±, "%", flux, "lm", power, "W"; the sum last. */
export function ledgerRows(ledger: Sheet['ledger']): string[][] {
  const row = (name: string, share: number, error: string, lm: number, w: number) => [
    name,
    fixed(share * 100, 3),
    error,
    '%',
    whole(lm),
    'lm',
    fixed(w, 2),
    'W',
  ]
  const rows = ledger
    .filter(({ share }) => share.value !== 0 || share.se > 0)
    .map(({ name, share, lm, w }) => row(name, share.value, shareError(share), lm, w))
  const sum = (pick: (l: Sheet['ledger'][number]) => number) => ledger.reduce((total, l) => total + pick(l), 0)
  const last = row(
    'Sum',
    sum((l) => l.share.value),
    '',
    sum((l) => l.lm),
    sum((l) => l.w),
  )
  return [...rows, last]
}

function shareError({ value, se }: Figure): string {
  const half = 100 * T95 * se
  if (half <= 1e-7 * value) return 'exact'
  return half < 0.0005 ? '< 0.001' : `± ${fixed(half, 3)}`
}

/** Name, value, ±, "kW/m²", where. */
export const hotSpotRows = (s: Sheet, system: UnitSystem = 'metric'): string[][] =>
  allInSystem(
    (Object.keys(HOT_SPOT_WORDS) as HotSpotName[]).flatMap((name) => {
      const spot = s.hotSpots[name]
      const others = name === 'lens' ? (s.elements ?? []) : []
      return [
        ...(spot ? [[hotSpotWords(name, s).name, ...hotSpotCells(spot)]] : []),
        ...others.flatMap((e) => (e.spot ? [[e.name, ...hotSpotCells(e.spot)]] : [])),
      ]
    }),
    system,
  )

function hotSpotCells(spot: HotSpot): string[] {
  const { value, error } = withError({ value: spot.kWm2, se: spot.se })
  return [value, error, 'kW/m²', `over a disc of ${sizeText(short(spot.discMm), spot.discMm)} at ${placeText(spot)}`]
}

/** Tilt, value, ±, "kW/m²", on what, height. */
export const sunRows = (s: Sheet, system: UnitSystem = 'metric'): string[][] =>
  allInSystem(
    s.sun.map((at) => {
      const { value, error } = withError({ value: at.kWm2, se: at.se })
      return [
        `${short(at.tiltDeg)}°`,
        value,
        error,
        'kW/m²',
        LANDS_WORDS[at.lands],
        `z ${sizeText(whole(at.zMm), at.zMm)}`,
      ]
    }),
    system,
  )

export const RISK_HEAD = ['Material', 'critical', 'then', '']

/** Material, critical irradiance, time at the worst place, clear distance. */
export const riskRows = (s: Sheet, system: UnitSystem = 'metric'): string[][] =>
  allInSystem(
    s.risks.map((r) => [
      r.material,
      `${short(r.criticalKWm2)} kW/m²`,
      r.secondsAtWorst === null ? 'stays below it' : `${durationDown(r.secondsAtWorst)} at the worst place`,
      r.clearDistanceMm > 0
        ? `keep ${distanceText(`${shortUp(r.clearDistanceMm / 1000)} m`, r.clearDistanceMm, 'up')} clear`
        : '',
    ]),
    system,
  )

/** Name, then value, ±, unit of each figure that is compared. */
export function variantRows(s: Sheet): string[][] {
  return s.variants.map((v) => [
    variantWords(v.name, v.leftOut),
    ...COMPARED_FIGURES.flatMap((name) => {
      const f = v.figures[name]
      if (!f) return ['-', '', '']
      const { value, error } = withError(f)
      return [value, error, unitText(name)]
    }),
  ])
}

export const HOT_SPOTS: readonly HotSpotName[] = ['lens', 'wall', 'face', 'front', 'sunInside']

/** What a sheet doesn't give, and why. */
export function absentOf(sheet: Sheet): Partial<Record<FigureName | HotSpotName, string>> {
  const absent: Partial<Record<FigureName | HotSpotName, string>> = {}
  const leftOut = (name: FigureName | HotSpotName, had: boolean) => {
    absent[name] = sheet.absent[name] ?? (had ? 'it came out as no finite number' : 'this trace did not give it')
  }
  for (const name of FIGURE_NAMES) {
    const f = sheet.figures[name]
    if (!f || !Number.isFinite(f.value) || !Number.isFinite(f.se)) leftOut(name, f !== undefined)
  }
  for (const name of HOT_SPOTS) {
    const h = sheet.hotSpots[name]
    if (!h || ![h.kWm2, h.se, h.xMm, h.yMm, h.zMm, h.discMm].every(Number.isFinite)) leftOut(name, h !== undefined)
  }
  return absent
}

/** "Hot spot: lens: why", a line for each figure that is absent. */
export const absentLines = (s: Sheet): string[] =>
  Object.entries(absentOf(s)).map(([name, why]) => {
    const called = Object.hasOwn(FIGURE_WORDS, name)
      ? FIGURE_WORDS[name as FigureName].name
      : `Hot spot: ${spotInner(name as HotSpotName, s)}`
    return `${called}: ${why}`
  })

/** Within a line: an element's own name is left as it is. */
const spotInner = (name: HotSpotName, s: Sheet): string => {
  const words = hotSpotWords(name, s)
  return words === HOT_SPOT_WORDS[name] ? words.name.toLowerCase() : words.name
}
