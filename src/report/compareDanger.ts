// Danger sheets side by side, row by row in the words of the danger sheet. What is shown is the upper end; whether a row differs is judged by the
// values and both ±.
import { groupWords } from '../checks/eyeWords.ts'
import { harmWords, inSentence, kWm2 } from '../checks/words.ts'
import { upperKWm2 } from '../hazard/discs.ts'
import type { EyeDistances } from '../hazard/eyeSheet.ts'
import { materialName } from '../hazard/inTheWay.ts'
import { differenceOf } from '../job/compare/difference.ts'
import type { ColumnDanger, ColumnSoFar } from '../job/compare/result.ts'
import type { ClearOf } from '../job/danger/result.ts'
import { allInSystem, distanceText, inEither, sizeText } from '../num/quantity.ts'
import { T95 } from '../num/stats.ts'
import type { UnitSystem } from '../num/unitSystem.ts'
import type { Figure } from '../run/figure.ts'
import { alsoHappens, belowWords, LANDS_WHERE, upDistance } from './danger.ts'
import { leadDistances } from './dangerLead.ts'
import { partRows } from './dangerRows.ts'
import { durationDown, short } from './numbers.ts'

/** Against the first lamp. `other`: in other words, without a ± to judge by. */
export type DangerMark = 'worse' | 'better' | 'within ±' | 'other' | 'only here' | 'not here'

interface DangerRow {
  name: string
  /** Null: not known yet. */
  cells: (string | null)[]
  marks: (DangerMark | null)[]
}

export interface DangerGroup {
  title: string
  rows: DangerRow[]
}

/** What a lamp says in a row. More of each figure is worse. */
interface Answer {
  text: string
  figure?: Figure
  /** Where it is reached: that counts between two lamps that have one. */
  distance?: Figure | undefined
  /** Of several distances, m, any of which tells the two apart; that of the largest ratio says which way. */
  distances?: readonly Figure[]
}

type Read = readonly (ColumnDanger | null)[]

const NONE = '–'

/** Empty until the first dangers are read. */
export function dangerGroups(columns: readonly (ColumnSoFar | null)[], system: UnitSystem = 'metric'): DangerGroup[] {
  const read = columns.map((c) => c?.danger ?? null)
  if (read.every((d) => d === null)) return []
  const groups: DangerGroup[] = [
    { title: 'Keep away', rows: leadRows(read) },
    { title: 'Clear of the beam, and how soon at the worst place', rows: clearRows(read) },
    { title: 'Hot places', rows: [...hotRows(read), ...partHeatRows(read, system)] },
    { title: 'In the way', rows: thingRows(read) },
    { title: 'Eyes: for a blink, 10 s, 100 s, no limit beyond', rows: eyeRows(read) },
    { title: 'The sun backwards', rows: sunRows(read) },
  ]
  return allInSystem(groups, system).filter(({ rows }) => rows.length > 0)
}

/** None where no lamp has anything to say. */
function row(name: string, read: Read, say: (d: ColumnDanger) => Answer | null): DangerRow[] {
  const answers = read.map((d) => d && say(d))
  if (answers.every((s) => s === null)) return []
  const [first = null] = answers
  return [
    {
      name,
      cells: read.map((d, i) => (d ? (answers[i]?.text ?? NONE) : null)),
      marks: answers.map((s, i) => (i > 0 && read[0] && read[i] ? markOf(first, s) : null)),
    },
  ]
}

/** Rows that the lamps name themselves, matched by name. */
function named<T>(
  read: Read,
  rowsOf: (d: ColumnDanger) => readonly T[],
  nameOf: (t: T) => string,
  say: (t: T, d: ColumnDanger) => Answer | null,
): DangerRow[] {
  const names = new Set(read.flatMap((d) => (d ? rowsOf(d).map(nameOf) : [])))
  return [...names].flatMap((name) =>
    row(name, read, (d) => {
      const mine = rowsOf(d).find((t) => nameOf(t) === name)
      return mine === undefined ? null : say(mine, d)
    }),
  )
}

function markOf(a: Answer | null, b: Answer | null): DangerMark | null {
  if (!a || !b) return a === b ? null : b ? 'only here' : 'not here'
  const quiet = a.text === b.text ? null : ('within ±' as const)
  const [x, y] = a.distance && b.distance ? [a.distance, b.distance] : [a.figure, b.figure]
  if (x && y) {
    const { differs, value } = differenceOf(x, y, null)
    return differs ? (value > 0 ? 'worse' : 'better') : quiet
  }
  const { distances } = b
  if (!a.distances || !distances) return a.text === b.text ? null : 'other'
  const apart = a.distances.flatMap((p, k) => {
    const q = distances[k]
    return q && differenceOf(p, q, null).differs ? [Math.log(q.value / p.value)] : []
  })
  const most = apart.reduce((m, x) => (Math.abs(x) > Math.abs(m) ? x : m), 0)
  return most === 0 ? quiet : most > 0 ? 'worse' : 'better'
}

/** Eyes are read from here on (hazard/eyeSheet.ts): nearer than that all distances are alike. */
const NEAREST_M = 0.2

/** Upper ends and means of an eye's four distances. */
const eyeFigures = (upper: EyeDistances, means: EyeDistances | undefined): Figure[] => {
  const means4 = stepsOf(means ?? upper)
  return stepsOf(upper).map((m, k) => between(Math.max(NEAREST_M, m), Math.max(NEAREST_M, means4[k] ?? m)))
}

/** An upper end and the value without ±, as a figure: what lies between is the ±. */
const between = (upper: number, mean: number): Figure => ({ value: mean, se: Math.max(0, upper - mean) / T95 })

const spotFigure = ({ kWm2: value, se }: { kWm2: number; se: number }): Figure => ({ value, se })

const most = (rows: readonly ClearOf[], of: (c: ClearOf) => number): number =>
  rows.reduce((a, c) => Math.max(a, of(c)), 0)

/** Of one or several materials, upper ends and means: the share of the limit, and the distance where all reach one. */
function clearFigures(upper: readonly ClearOf[], means: readonly ClearOf[]): Pick<Answer, 'figure' | 'distance'> {
  const [share, distance] = [(c: ClearOf) => c.shareAtWorst, (c: ClearOf) => c.clearDistanceMm]
  const reached = most(upper, distance) > 0
  return {
    figure: between(most(upper, share), most(means, share)),
    ...(reached && { distance: between(most(upper, distance), most(means, distance)) }),
  }
}

const LEADS = [
  ['eye', 'Eyes, looking in'],
  ['fire', 'What burns'],
  ['hand', 'Bare skin'],
] as const

const leadRows = (read: Read): DangerRow[] =>
  LEADS.flatMap(([of, name]) =>
    row(name, read, ({ reading, means }) => {
      const lead = leadDistances(reading, 'metric').find((l) => l.of === of)
      if (!lead) return null
      const mine = (c: ClearOf) =>
        of === 'hand' ? c.id === 'skin' : c.harm === 'catches fire' || c.harm === 'chars and glows'
      const [upper, mean] = [reading.clear.filter(mine), means.clear.filter(mine)]
      if (of !== 'eye') {
        const mm = most(upper, (c) => c.clearDistanceMm)
        const share = most(upper, (c) => c.shareAtWorst)
        return { text: mm > 0 ? upDistance(mm) : `anywhere: ${belowWords(share)}`, ...clearFigures(upper, mean) }
      }
      if (!reading.eye) return { text: 'no light' }
      const { distances, means: values } = reading.eye
      const [eye] = distances
      const text = lead.reached ? `${eyeLeadDistance(eye)}, ${lead.what.replace('Eyes: ', '')}` : UNDER_NEAREST
      return { text, distances: eyeFigures(eye, values.distances[0]) }
    }),
  )

const UNDER_NEAREST = inEither('under 0.2 m', 'under 8 in')
const stepsOf = ({ metres: { blink, tenSeconds, hundredSeconds }, noLimitM }: EyeDistances): number[] => [
  blink,
  tenSeconds,
  hundredSeconds,
  noLimitM,
]
const eyeLeadDistance = (eye: EyeDistances): string => upDistance(1000 * Math.max(...stepsOf(eye)))

const clearRows = (read: Read): DangerRow[] =>
  named(
    read,
    ({ reading }) => reading.clear,
    (c) => c.name,
    (c, { means }) => {
      const when = c.secondsAtWorst === null ? '' : `, ${harmWords(c.harm)} in ${durationDown(c.secondsAtWorst)}`
      const changed = c.changedFrom === null ? '' : ` (limit CHANGED, published ${short(c.changedFrom)} kW/m²)`
      const text = c.clearDistanceMm > 0 ? upDistance(c.clearDistanceMm) : belowWords(c.shareAtWorst)
      const mean = means.clear.filter(({ id }) => id === c.id)
      return { text: `${text}${when}${changed}`, ...clearFigures([c], mean) }
    },
  )

const strength = (spot: { kWm2: number; se: number }): string => kWm2(upperKWm2(spot))

const hotRows = (read: Read): DangerRow[] => [
  ...row(
    'Worst in front',
    read,
    ({ reading: { front } }) => front.worst && { text: strength(front.worst), figure: spotFigure(front.worst) },
  ),
  ...row('Where light gathers in front', read, ({ reading: { foci } }) => {
    const [focus] = foci.toSorted((a, b) => upperKWm2(b) - upperKWm2(a))
    return focus ? { text: `${strength(focus)} at ${upDistance(focus.distanceMm)}`, figure: spotFigure(focus) } : null
  }),
  ...row(
    'Beside and behind',
    read,
    ({ reading: { beside } }) => beside.worst && { text: strength(beside.worst), figure: spotFigure(beside.worst) },
  ),
  ...row(
    'Sent back inside',
    read,
    ({ reading: { ghost } }) =>
      ghost && {
        text: `${strength(ghost)}, ${sizeText(short(ghost.zMm), ghost.zMm)} above the face`,
        figure: spotFigure(ghost),
      },
  ),
]

/** The lamp's own parts, in the order and words of the danger sheet. */
const partHeatRows = (read: Read, system: UnitSystem): DangerRow[] =>
  named(
    read,
    ({ reading }) => partRows(reading, system),
    ([name = '']) => name,
    ([name = '', words = '', limit = ''], { reading: { parts } }) => {
      const { lens, wall, boards, elements, optics } = parts
      const part =
        name === lens?.name
          ? lens
          : name === 'Wall'
            ? wall
            : name === 'Boards'
              ? boards
              : elements.find((e) => e.name === name)
      const optic = optics.find((o) => o.name === name)
      const limited = limit === '' ? words : `${words} (${limit})`
      if (!part) return { text: limited, ...(optic && { figure: { value: optic.settlesC, se: 0 } }) }
      return {
        text: `${kWm2(part.kWm2)}: ${limited}`,
        figure: part.spot ? spotFigure(part.spot) : { value: part.kWm2, se: 0 },
      }
    },
  )

const thingRows = (read: Read): DangerRow[] =>
  named(
    read,
    ({ reading }) => reading.things,
    (t) => (t.material === 'skin' ? t.name : `${t.name} (${inSentence(materialName(t.material))})`),
    (t, { means }) => {
      const mean = means.things.find(({ name, material }) => name === t.name && material === t.material)
      const harm =
        t.secondsToHarm === null
          ? belowWords(t.shareOfLimit)
          : `${harmWords(t.harm)} in ${durationDown(t.secondsToHarm)}`
      return {
        text: [harm, ...alsoHappens(t, durationDown)].join(', '),
        figure: between(t.shareOfLimit, mean?.shareOfLimit ?? t.shareOfLimit),
      }
    },
  )

function eyeRows(read: Read): DangerRow[] {
  const answerOf = (eye: EyeDistances, means: EyeDistances | undefined): Answer => ({
    text: stepsOf(eye)
      .map((m) => (m > 0 ? upDistance(1000 * m) : UNDER_NEAREST))
      .join(' · '),
    distances: eyeFigures(eye, means),
  })
  return [
    ...named(
      read,
      ({ reading: { eye } }) => eye?.distances ?? [],
      ({ angleDeg }) => (angleDeg === 0 ? 'Worst place' : `${angleDeg}° aside or more`),
      (of, { reading: { eye } }) =>
        answerOf(
          of,
          eye?.means.distances.find(({ angleDeg }) => angleDeg === of.angleDeg),
        ),
    ),
    ...row(
      'Worst place, field glasses',
      read,
      ({ reading: { eye } }) => eye && answerOf(eye.glasses, eye.means.glasses),
    ),
    ...row(
      `Risk group at ${sizeText('200', 200)}`,
      read,
      ({ reading: { eye } }) => eye && { text: groupWords(eye.risk.at200.group) },
    ),
  ]
}

const sunWhere = ({ lands, board }: { lands: keyof typeof LANDS_WHERE; board: string | null }): string =>
  `${LANDS_WHERE[lands]}${board === null ? '' : ` ${board}`}`

function sunRows(read: Read): DangerRow[] {
  const worstOf = (points: ColumnDanger['reading']['sunMap']) =>
    points.reduce<(typeof points)[number] | null>((a, b) => (a && upperKWm2(a) >= upperKWm2(b) ? a : b), null)
  const tiltsOf = (d: ColumnDanger) => new Set(d.reading.sunMap.map((p) => p.tiltDeg))
  const lit = read.filter((d) => d !== null && d.reading.sunMap.length > 0).map((d) => tiltsOf(d as ColumnDanger))
  const tilts = [...(lit[0] ?? [])].filter((t) => lit.every((own) => own.has(t))).sort((a, b) => a - b)
  const place = (zone: 'outside' | 'front') => (d: ColumnDanger) => {
    const found = d.reading.sunPlaces.find((p) => p.zone === zone)
    return found ? { text: `${strength(found)}, sun ${short(found.tiltDeg)}° off`, figure: spotFigure(found) } : null
  }
  return [
    ...row('At its worst inside', read, ({ reading }) => {
      const worst = worstOf(reading.sunMap)
      return (
        worst && {
          text: `${strength(worst)}, ${sunWhere(worst)}, sun ${short(worst.tiltDeg)}° off`,
          figure: spotFigure(worst),
        }
      )
    }),
    ...tilts.flatMap((tilt) =>
      row(`Sun ${short(tilt)}° off`, read, ({ reading }) => {
        const worst = worstOf(reading.sunMap.filter((p) => p.tiltDeg === tilt))
        return worst && { text: `${strength(worst)}, ${sunWhere(worst)}`, figure: spotFigure(worst) }
      }),
    ),
    ...row('Outside the lamp', read, place('outside')),
    ...row('Thrown back before the lamp', read, place('front')),
    ...row('Lying in it for a day', read, ({ reading: { sunDay, sunMap } }) => {
      const strongest = worstOf(sunMap)
      if (!sunDay?.worst || !strongest) return null
      const { kWm2: upper } = sunDay.worst
      const plastic =
        sunDay.plasticSeconds === null
          ? 'too weak to light plastic'
          : `lights plastic in ${durationDown(sunDay.plasticSeconds)}`
      // The map's points keep their ±, a moment of the day does not: taken as that of the strongest.
      const mean = (upper * strongest.kWm2) / upperKWm2(strongest)
      return { text: `${kWm2(upper)}, ${plastic}`, figure: between(upper, mean) }
    }),
    ...row(
      'The bare lens',
      read,
      ({ reading: { bareLens } }) =>
        bareLens && {
          text: `${kWm2(bareLens.kWm2)}, ${distanceText(`${short(bareLens.focusMm / 1000)} m`, bareLens.focusMm)} behind it`,
        },
    ),
  ]
}

export const DANGER_ROWS_NOTE =
  'Upper ends at 95 %, in the words of the danger sheet. worse, better: against A, by the values and both ±, joined by √(a² + b²); of 20 rows that are alike about one is marked by chance. Distances for eyes are read in steps: their ± is what lies between the step shown and the value without ±. other: in other words, without a ± to judge by.'
