// The danger sheet's tables in rows of words, the same on the terminal and in the book. Every figure is an upper end. Names are as in the
// document: escape them.

import { degreesC, harmWords, inSentence, ofLimit } from '../checks/words.ts'
import { upperKWm2 } from '../hazard/discs.ts'
import type { EyeDistances } from '../hazard/eyeSheet.ts'
import { materialName } from '../hazard/inTheWay.ts'
import type { DangerReading } from '../job/danger/result.ts'
import type { Lamp } from '../lamp/schema.ts'
import { frontWord } from '../library/lensSystem.ts'
import { allInSystem, distanceText, inEither, sizeText } from '../num/quantity.ts'
import type { UnitSystem } from '../num/unitSystem.ts'
import { alsoHappens, belowWords, LANDS_WHERE, upDegrees, upDistance } from './danger.ts'
import { durationDown, durationUp, fixedUp, placeText, short, shortUp, whole } from './numbers.ts'

/** What, clear distance, from which irradiance, time at the worst place, what was changed by hand. */
export const clearRows = (d: DangerReading, system: UnitSystem = 'metric'): string[][] =>
  allInSystem(
    d.clear.map((c) => [
      c.name,
      c.clearDistanceMm > 0 ? upDistance(c.clearDistanceMm) : 'not reached',
      `${harmWords(c.harm)} from ${short(c.kWm2)} kW/m²`,
      c.secondsAtWorst === null
        ? `${belowWords(c.shareAtWorst)} at the worst place`
        : `in ${durationDown(c.secondsAtWorst)} at the worst place`,
      c.changedFrom === null ? '' : `CHANGED, published ${short(c.changedFrom)}`,
    ]),
    system,
  )

/** From half of the limit on its share stands in place of a time. */
const secondsText = (s: number | null, share: number): string =>
  s !== null ? durationDown(s) : share >= 0.5 ? ofLimit(share) : '-'

/** Distances side by side, so that a table stays narrow. */
const ACROSS = 6

/** Tables of at most six distances each: rows of what is harmed, the first two what reaches there. */
export function harmTables(d: DangerReading, system: UnitSystem = 'metric'): string[][][] {
  const tables: string[][][] = []
  for (let i = 0; i < d.harm.length; i += ACROSS) {
    const some = d.harm.slice(i, i + ACROSS)
    tables.push([
      ['From front', ...some.map((h) => distanceText(`${short(h.distanceMm / 1000)} m`, h.distanceMm))],
      ['Up to', ...some.map((h) => `${shortUp(h.kWm2)} kW/m²`)],
      ...d.clear.map((c) => [c.name, ...some.map((h) => secondsText(h.seconds[c.id], h.kWm2 / c.kWm2))]),
    ])
  }
  return allInSystem(tables, system)
}

/** Thing, material, irradiance, how warm it gets, what happens; and what else happens, for each. */
export const thingRows = (d: DangerReading, system: UnitSystem = 'metric'): { row: string[]; also: string }[] =>
  allInSystem(
    d.things.map((t) => ({
      row: [
        t.name,
        inSentence(materialName(t.material)),
        `${shortUp(t.kWm2)} kW/m²`,
        t.settlesC === null ? '' : `to ${upDegrees(t.settlesC)}`,
        t.secondsToHarm === null
          ? belowWords(t.shareOfLimit)
          : `${harmWords(t.harm)} in ${durationDown(t.secondsToHarm)}`,
      ],
      also: alsoHappens(t, durationDown).join(', '),
    })),
    system,
  )

/** Part, how warm it gets, its limit; parts that are not judged with the reason. */
export function partRows({ parts }: DangerReading, system: UnitSystem = 'metric'): string[][] {
  const { lens, elements, wall, boards, optics, absent } = parts
  const rows: string[][] = []
  if (lens)
    rows.push([
      lens.name,
      `clean to ${upDegrees(lens.cleanC)}, dirty to ${upDegrees(lens.dirtyC)}`,
      lens.keepBelowC === null ? '' : `keep below ${degreesC(lens.keepBelowC)}`,
    ])
  for (const e of elements)
    rows.push([
      e.name,
      `clean to ${upDegrees(e.cleanC)}, dirty to ${upDegrees(e.dirtyC)}`,
      e.keepBelowC === null ? '' : `keep below ${degreesC(e.keepBelowC)}`,
    ])
  if (wall)
    rows.push([
      'Wall',
      `clean to ${upDegrees(wall.cleanC)}, stained to ${upDegrees(wall.dirtyC)}`,
      wall.limits.map((l) => `${degreesC(l.limitC)}${l.passed ? ' PASSED' : ''}`).join(', '),
    ])
  if (boards)
    rows.push([
      'Boards',
      `dark plastic to ${upDegrees(boards.plasticC)}, face at ${upDegrees(boards.faceC)}`,
      degreesC(boards.limit.limitC),
    ])
  for (const o of optics) rows.push([o.name, `to ${upDegrees(o.settlesC)} at the most`, degreesC(o.limit.limitC)])
  for (const [name, why] of Object.entries(absent)) rows.push([name, why, ''])
  return allInSystem(rows, system)
}

/** The sun by its angle off the axis, its worst direction each: tilt, irradiance, on what, where. */
export function sunTiltRows(d: DangerReading, system: UnitSystem = 'metric'): string[][] {
  const worst = new Map<number, DangerReading['sunMap'][number]>()
  for (const p of d.sunMap) {
    const known = worst.get(p.tiltDeg)
    if (!known || upperKWm2(p) > upperKWm2(known)) worst.set(p.tiltDeg, p)
  }
  return allInSystem(
    [...worst.values()].map((p) => [
      `${short(p.tiltDeg)}° off`,
      `${shortUp(upperKWm2(p))} kW/m²`,
      `${LANDS_WHERE[p.lands]}${p.board === null ? '' : ` ${p.board}`}${p.flat === null ? '' : ` ${p.flat}`}`,
      placeText(p),
    ]),
    system,
  )
}

/** The sun over the day where the lamp lies; empty where it never comes in. */
export const sunDaySentence = ({ sunDay: day }: DangerReading, lamp: Lamp, system: UnitSystem = 'metric'): string =>
  allInSystem(
    day?.worst
      ? `Lying at latitude ${short(day.place.latitudeDeg)}°, ${day.place.day}. ${day.place.month}., ${frontWord(lamp)} ${short(day.place.lensUpDeg)}° up: worst ${shortUp(day.worst.kWm2)} kW/m² at ${clock(day.worst.hour)} solar time; strong enough to light plastic for ${fixedUp(day.hoursOverPlastic, 1)} h${day.plasticSeconds === null ? '' : `, in ${durationDown(day.plasticSeconds)}`}${day.staysSeconds === null ? '' : `; the spot stays for ${durationUp(day.staysSeconds)}`}. Covered: dark inside, a black cover gets to ${upDegrees(day.coverC)}.`
      : '',
    system,
  )

const clock = (hour: number): string => `${Math.floor(hour)}:${String(Math.round((hour % 1) * 60)).padStart(2, '0')}`

/** The lens without the lamp; empty without one. */
export const bareLensSentence = ({ bareLens: bare }: DangerReading, system: UnitSystem = 'metric'): string =>
  allInSystem(
    bare
      ? `The bare lens: ${shortUp(bare.kWm2)} kW/m² ${sizeText(whole(bare.focusMm), bare.focusMm)} behind it, wandering ${sizeText(short(bare.mmPerMinute), bare.mmPerMinute)} a minute.${bare.before ? ` It throws back ${shortUp(bare.before.kWm2)} kW/m² ${sizeText(whole(bare.before.distanceMm), bare.before.distanceMm)} before it.` : ''}`
      : '',
    system,
  )

export const EYE_HEAD = ['Keep away', 'blink', '10 s', '100 s', 'no limit']

/** From where, and the distance for a blink, 10 s, 100 s and any time; empty without light. */
export function eyeRows({ eye }: DangerReading, system: UnitSystem = 'metric'): string[][] {
  if (!eye) return []
  const row = (name: string, { metres, noLimitM }: EyeDistances) => [
    name,
    ...[metres.blink, metres.tenSeconds, metres.hundredSeconds, noLimitM].map((m) =>
      m > 0 ? upDistance(1000 * m) : inEither('under 0.2 m', 'under 8 in'),
    ),
  ]
  return allInSystem(
    [
      ...eye.distances.map((d) => row(d.angleDeg === 0 ? 'worst place' : `${d.angleDeg}° aside or more`, d)),
      row('worst, field glasses', eye.glasses),
    ],
    system,
  )
}
