// The danger sheet for a terminal: distances, times, the cover rule, what to check before power. Every figure is an upper end.
import { cautionsFor } from '../checks/cautions.ts'
import { flickerWords, groupSentence, HAZARDS, riskWords } from '../checks/eyeWords.ts'
import { inSentence, ofLimit } from '../checks/words.ts'
import { upperKWm2 } from '../hazard/discs.ts'
import type { EyeDistances } from '../hazard/eyeSheet.ts'
import { materialName } from '../hazard/inTheWay.ts'
import type { DangerReading } from '../job/danger/result.ts'
import type { Lamp } from '../lamp/schema.ts'
import { frontWord } from '../library/lensSystem.ts'
import {
  alsoHappens,
  beforePower,
  belowWords,
  coverRule,
  EYE_NOTE,
  eyeLeadSentence,
  FLICKER_NOTE,
  LANDS_WHERE,
  SCREENING_NOTE,
  SUN_NOTE,
  trafficSentence,
  upDegrees,
  upMetres,
} from '../report/danger.ts'
import { lightSentence, ownPlaceSentences, sunPlaceSentences, turnedSentence } from '../report/dangerPlaces.ts'
import { frontFoci } from './dangerJson.ts'
import { findingsText } from './findingsText.ts'
import { columns, duration, fixed, short, whole, wrapped } from './format.ts'
import { stripControls } from './io.ts'

const WIDTH = 96

export function dangerText(d: DangerReading, lamp: Lamp): string {
  const cover = coverRule(lamp)
  const parts = [
    `${stripControls(d.lamp)}: danger sheet\n${whole(d.rays)} rays, seed ${d.seed}; upper ends at 95 %, over a disc of ${short(d.discMm)} mm\n${stripControls(lightSentence(d))}`,
    section('Keep clear, from the lamp’s front', clearLines(d)),
    section('Hottest places in front', focusLines(d)),
    section('Elsewhere', ownPlaceSentences(d).flatMap(paragraph)),
    section('Time to harm at a distance', harmLines(d)),
    section('Things in the way', thingLines(d)),
    section('The lamp’s own parts', partLines(d)),
    section('Sun falling in', sunLines(d, lamp)),
    section('Eyes', eyeLines(d)),
    section('Cover', cover === null ? [] : paragraph(cover)),
    section(
      'Before power',
      beforePower(lamp).flatMap((line) => paragraph(`- ${line}`)),
    ),
    `Findings\n${findingsText(d.findings)}`,
    section(
      'Cautions',
      cautionsFor(lamp).flatMap(({ text }) => paragraph(text)),
    ),
    section(
      'Sources of the thresholds',
      d.clear.flatMap((c) => paragraph(`${c.name}: ${stripControls(c.source)}`)),
    ),
  ]
  return `${parts.filter((p) => p !== '').join('\n\n')}\n`
}

const section = (title: string, lines: readonly string[]): string =>
  lines.length === 0 ? '' : [title, ...lines.map((line) => `  ${line}`)].join('\n')

const paragraph = (text: string): string[] => wrapped(text, WIDTH, '').split('\n')

const clearLines = (d: DangerReading): string[] =>
  columns(
    d.clear.map((c) => [
      c.name,
      c.clearDistanceMm > 0 ? `${upMetres(c.clearDistanceMm)} m` : 'not reached',
      `${c.harm} from ${short(c.kWm2)} kW/m²`,
      c.secondsAtWorst === null
        ? `${belowWords(c.shareAtWorst)} at the worst place`
        : `in ${duration(c.secondsAtWorst)} at the worst place`,
      c.changedFrom === null ? '' : `CHANGED, published ${short(c.changedFrom)}`,
    ]),
    [1],
  )

const focusLines = (d: DangerReading): string[] =>
  columns(
    frontFoci(d)
      .slice(0, 8)
      .map((f) => [
        f.focus ? 'focus' : 'worst',
        `${short(f.kWm2)} kW/m²`,
        `at x ${fixed(f.xMm, 1)}, y ${fixed(f.yMm, 1)}, z ${fixed(f.zMm, 1)} mm`,
      ]),
    [1],
  )

/** From half of the limit on its share stands in place of a time. */
const secondsText = (s: number | null, share: number): string =>
  s !== null ? duration(s) : share >= 0.5 ? ofLimit(share) : '-'

/** Distances side by side, so that a line stays narrow. */
const ACROSS = 6

function harmLines(d: DangerReading): string[] {
  const lines: string[] = []
  for (let i = 0; i < d.harm.length; i += ACROSS) {
    const some = d.harm.slice(i, i + ACROSS)
    const rows = [
      ['From front', ...some.map((h) => `${short(h.distanceMm / 1000)} m`)],
      ['Up to', ...some.map((h) => `${short(h.kWm2)} kW/m²`)],
      ...d.clear.map((c) => [c.name, ...some.map((h) => secondsText(h.seconds[c.id], h.kWm2 / c.kWm2))]),
    ]
    lines.push(
      ...columns(
        rows,
        some.map((_, k) => k + 1),
      ),
    )
  }
  return lines
}

/** A line each; what else happens stands below it. */
function thingLines(d: DangerReading): string[] {
  const lines = columns(
    d.things.map((t) => [
      stripControls(t.name),
      inSentence(materialName(t.material)),
      `${short(t.kWm2)} kW/m²`,
      t.settlesC === null ? '' : `to ${upDegrees(t.settlesC)}`,
      t.secondsToHarm === null ? belowWords(t.shareOfLimit) : `${t.harm} in ${duration(t.secondsToHarm)}`,
    ]),
    [2],
  )
  const also = d.things.map((t) => stripControls(alsoHappens(t, duration).join(', ')))
  return lines.flatMap((line, i) => (also[i] ? [line, `    ${also[i]}`] : [line]))
}

function partLines({ parts }: DangerReading): string[] {
  const { lens, elements, wall, boards, optics, absent } = parts
  const rows: string[][] = []
  if (lens)
    rows.push([
      stripControls(lens.name),
      `clean to ${upDegrees(lens.cleanC)}, dirty to ${upDegrees(lens.dirtyC)}`,
      lens.keepBelowC === null ? '' : `keep below ${lens.keepBelowC} °C`,
    ])
  for (const e of elements)
    rows.push([
      stripControls(e.name),
      `clean to ${upDegrees(e.cleanC)}, dirty to ${upDegrees(e.dirtyC)}`,
      e.keepBelowC === null ? '' : `keep below ${e.keepBelowC} °C`,
    ])
  if (wall)
    rows.push([
      'Wall',
      `clean to ${upDegrees(wall.cleanC)}, stained to ${upDegrees(wall.dirtyC)}`,
      wall.limits.map((l) => `${l.limitC} °C${l.passed ? ' PASSED' : ''}`).join(', '),
    ])
  if (boards)
    rows.push([
      'Boards',
      `dark plastic to ${upDegrees(boards.plasticC)}, face at ${upDegrees(boards.faceC)}`,
      `${boards.limit.limitC} °C`,
    ])
  for (const o of optics)
    rows.push([stripControls(o.name), `to ${upDegrees(o.settlesC)} at the most`, `${o.limit.limitC} °C`])
  for (const [name, why] of Object.entries(absent)) rows.push([name, why, ''])
  return [...columns(rows), ...(boards ? paragraph(`The face by itself, ${stripControls(boards.faceFrom)}.`) : [])]
}

function sunLines(d: DangerReading, lamp: Lamp): string[] {
  const worst = new Map<number, DangerReading['sunMap'][number]>()
  for (const p of d.sunMap) {
    const known = worst.get(p.tiltDeg)
    if (!known || upperKWm2(p) > upperKWm2(known)) worst.set(p.tiltDeg, p)
  }
  const rows = [...worst.values()].map((p) => [
    `${short(p.tiltDeg)}° off`,
    `${short(upperKWm2(p))} kW/m²`,
    `${LANDS_WHERE[p.lands]}${p.board === null ? '' : ` ${stripControls(p.board)}`}${p.flat === null ? '' : ` ${p.flat}`}`,
    `x ${whole(p.xMm)}, y ${whole(p.yMm)}, z ${whole(p.zMm)} mm`,
  ])
  const lines = columns(rows, [0, 1])
  const { sunDay: day, bareLens: bare } = d
  if (day?.worst)
    lines.push(
      ...paragraph(
        `Lying at latitude ${short(day.place.latitudeDeg)}°, ${day.place.day}. ${day.place.month}., ${frontWord(lamp)} ${short(day.place.lensUpDeg)}° up: worst ${short(day.worst.kWm2)} kW/m² at ${clock(day.worst.hour)} solar time; strong enough to light plastic for ${fixed(day.hoursOverPlastic, 1)} h${day.plasticSeconds === null ? '' : `, in ${duration(day.plasticSeconds)}`}${day.staysSeconds === null ? '' : `; the spot stays for ${duration(day.staysSeconds)}`}. Covered: dark inside, a black cover gets to ${upDegrees(day.coverC)}.`,
      ),
    )
  lines.push(...[turnedSentence(d), ...sunPlaceSentences(d)].filter((t) => t !== '').flatMap(paragraph))
  if (bare)
    lines.push(
      ...paragraph(
        `The bare lens: ${short(bare.kWm2)} kW/m² ${whole(bare.focusMm)} mm behind it, wandering ${short(bare.mmPerMinute)} mm a minute.${bare.before ? ` It throws back ${short(bare.before.kWm2)} kW/m² ${whole(bare.before.distanceMm)} mm before it.` : ''}`,
      ),
    )
  if (d.sunMap.length > 0) lines.push(...paragraph(SUN_NOTE))
  return lines
}

const clock = (hour: number): string => `${Math.floor(hour)}:${String(Math.round((hour % 1) * 60)).padStart(2, '0')}`

function eyeLines({ eye }: DangerReading): string[] {
  if (!eye) return []
  const row = (name: string, { metres, noLimitM }: EyeDistances) => [
    name,
    ...[metres.blink, metres.tenSeconds, metres.hundredSeconds, noLimitM].map((m) =>
      m > 0 ? `${upMetres(1000 * m)} m` : 'under 0.2 m',
    ),
  ]
  const head = ['Keep away', 'blink', '10 s', '100 s', 'no limit']
  const rows = [
    ...eye.distances.map((d) => row(d.angleDeg === 0 ? 'worst place' : `${d.angleDeg}° aside or more`, d)),
    row('worst, field glasses', eye.glasses),
  ]
  return [
    ...paragraph(eyeLeadSentence(eye)),
    ...columns([head, ...rows], [1, 2, 3, 4]),
    ...paragraph(`${groupSentence(eye.risk)}. At 200 mm:`),
    ...columns(eye.risk.at200.rows.map((r) => [`  ${HAZARDS[r.hazard]}`, riskWords(r)])),
    ...paragraph(trafficSentence(eye)),
    ...eye.flicker.flatMap((f) => paragraph(`Flicker: ${stripControls(flickerWords(f))}.`)),
    ...paragraph(EYE_NOTE),
    ...paragraph(FLICKER_NOTE),
    ...paragraph(SCREENING_NOTE),
  ]
}
