// The measuring plan in words: what to do first, where to read, what the meter will show; as text, as a page to print and as a table to fill in.

import type { MeasuringPlan, PlannedPlace } from '../job/fit/plan.ts'
import type { Lamp } from '../lamp/schema.ts'
import type { DecimalMark } from '../num/decimalMark.ts'
import { allInSystem, distanceText, inEither, sizeNumber } from '../num/quantity.ts'
import { M_PER_FOOT, type Rounding, type UnitSystem } from '../num/unitSystem.ts'
import { beforePower, coverRule } from './danger.ts'
import { escapeHtml } from './dangerPage.ts'
import { duration, fixed, short, shortUp, significant } from './numbers.ts'

interface PlanTable {
  title: string
  head: string[]
  rows: string[][]
}

export interface PlanWords {
  title: string
  /** Before the lamp is lit. */
  safety: string[]
  steps: string[]
  /** What FL 1 calls what, and where it comes from here. */
  fl1: string[]
  tables: PlanTable[]
  /** What the readings will be held against. */
  drawn: string[]
}

const metres = (m: number, way: Rounding = 'nearest'): string => distanceText(`${short(m)} m`, 1000 * m, way)
/** A clear distance, rounded up: to tenths of a metre, to three digits from 100 m on. */
const clear = (m: number): string => distanceText(`${shortUp(Math.ceil(10 * m - 1e-9) / 10)} m`, 1000 * m, 'up')

export function planWords(plan: MeasuringPlan, lamp: Lamp, system: UnitSystem): PlanWords {
  const cover = coverRule(lamp)
  const words: PlanWords = {
    title: `${plan.lamp}: what to measure`,
    safety: [
      'Never look into the lamp, nor at its reflection in glass or metal. Stand behind it; read the meter from the side, or hold its display.',
      'Aim at the lowest mode, from behind. The figures below are no permission to stand in the beam: the danger sheet has the clear distances.',
      ...clearWords(plan),
      ...beforePower(lamp),
      ...(cover ? [cover] : []),
      ...plan.severe.map((title) => `Severe finding: ${title}`),
    ],
    steps: [
      `Wall: ${metres(plan.wallM)} from the lamp’s front to the wall, square to the axis.${distanceWords(plan)}`,
      'Mark 0 on the wall where the beam is brightest. + is to the right seen from the wall towards the lamp, and up.',
      'Dark room, nothing pale beside the beam. Read once with the lamp off and once with a card half way that shades the meter alone: that is stray light. Write it down.',
      'Hold the meter’s disc at each mark: flat on the wall for the lines, turned to the lamp for the axis. The height of 0 is the height of the lamp’s axis.',
      `Read ${plan.afterS} s after switch-on${plan.mode === null ? '' : `, mode ${plan.mode}`}, battery full (ANSI/PLATO FL 1: light is taken from 30 s on). Read the middle again at the end.${warmWords(plan)}`,
      meterWords(plan),
    ],
    fl1: FL1,
    tables: [
      wallTable('Across the wall', inEither('across mm', 'across in'), plan.across, (p) => p.xMm),
      wallTable('Up the wall', inEither('up mm', 'up in'), plan.up, (p) => p.yMm),
      {
        title: 'On the axis, meter turned to the lamp',
        head: [inEither('distance m', 'distance ft'), 'expected lx', 'lx'],
        rows: plan.axis.map((p) => [inEither(short(p.distanceM), short(p.distanceM / M_PER_FOOT)), expectedLx(p), '']),
      },
    ],
    drawn: drawnWords(plan),
  }
  return allInSystem(words, system)
}

/** ANSI/PLATO FL 1 (FL 1-2009, 1.2.1 to 1.2.4, second-hand; the window of 30 to 120 s and the distances from memory). */
const FL1 = [
  'Peak beam intensity, cd: the greatest there is, whatever the distance. Here: “Peak”, from the brightest place.',
  'Beam distance, m: where the beam has fallen to 0.25 lx, twice the root of the peak. Here: “Beam distance”.',
  'Light output, lm: all light over all angles, 30 s to 120 s after switch-on. Here: against a lamp of known lumens, or “Light output: read and traced together”.',
  'Run time, h: from 30 s after switch-on, battery full, until a tenth of that light, to the nearest quarter of an hour. Here: readings over time.',
  'FL 1 reads at 2, 10 or 30 m. Near a wide lens 2 m is too near for the inverse square: the fit allows for that.',
]

/** What the danger sheet says of where a hand and a wall would be. */
function clearWords({ wallM, skinM, burns, burnsToM, tooNear }: MeasuringPlan): string[] {
  const [first] = burns
  const left =
    tooNear > 0
      ? ` ${tooNear === 1 ? 'One place' : `${tooNear} places`} on the axis nearer than that ${tooNear === 1 ? 'is' : 'are'} left out.`
      : ''
  return [
    ...(first
      ? [
          `The wall may burn: at ${metres(wallM)} it stands within the clear distance of ${burns.length === 1 ? first.material.toLowerCase() : `${burns.length} materials of the danger sheet, the farthest ${first.material.toLowerCase()}`} (${clear(first.toM)}). Move it beyond ${clear(burnsToM)}, or read in a lower mode.`,
        ]
      : []),
    ...(skinM > 0 ? [`No hand in the beam nearer than ${clear(skinM)}: it hurts bare skin.${left}`] : []),
    `Stand beside the beam, your eyes outside it, and behind the lamp while you aim.${!first && burnsToM > 0 ? ` Nothing that burns stays in it nearer than ${clear(burnsToM)}.` : ''} By the light that the lamp is traced with, upper ends.`,
  ]
}

function distanceWords({ wallM, inverseSquareM, wallIsFar }: MeasuringPlan): string {
  if (inverseSquareM === null) return ''
  if (wallIsFar) return ` Lux × distance² is right from ${metres(inverseSquareM, 'up')} on.`
  return ` Lux × distance² is right only from ${metres(inverseSquareM, 'up')} on: at ${metres(wallM)} it comes out too low, and the fit allows for that by this lamp’s own trace.`
}

function warmWords({ warmUp }: MeasuringPlan): string {
  const last = warmUp.at(-1)
  if (!last || warmUp.length < 2) return ''
  const lost = warmUp.filter((w) => w.share < 0.98)[0]
  const end = `${Math.round(100 * last.share)} % of it after ${duration(last.atS)}`
  return lost
    ? ` It warms up meanwhile: ${Math.round(100 * lost.share)} % of that light after ${duration(lost.atS)}, ${end}. Let it cool between the lines.`
    : ` It keeps its light meanwhile: ${end}.`
}

function meterWords({ leastLx, mostLx, overRange, tooHot }: MeasuringPlan): string {
  const hot =
    tooHot > 0
      ? ` ${tooHot === 1 ? 'One place is' : `${tooHot} places are`} left out: over 200\u202f000 lx, twice full sunlight, is no place for a hand or a meter.`
      : ''
  const over =
    overRange > 0
      ? ` ${overRange === 1 ? 'One place is' : `${overRange} places are`} over the range of your meter: move the wall away.`
      : ''
  return `Meter: from ${lxText(leastLx)} to ${lxText(mostLx)}. Stray light under ${lxText(Math.max(0.01, 0.02 * leastLx))} is lost in the outermost readings.${over}${hot}`
}

const lxText = (lx: number): string => `${significant(lx, 2)} lx`

/** Expected lux need no more digits than a meter has. */
const expectedLx = ({ lx }: PlannedPlace): string => significant(lx, 3)

function wallTable(
  title: string,
  name: string,
  places: readonly PlannedPlace[],
  at: (p: PlannedPlace) => number,
): PlanTable {
  return {
    title,
    head: [name, 'expected lx', 'lx'],
    rows: places.map((p) => [sizeNumber(fixed(at(p), 0).replace(',', ''), at(p)), expectedLx(p), '']),
  }
}

function drawnWords({ drawn }: MeasuringPlan): string[] {
  const row = (words: string, value: number | null, unit: string) =>
    value === null ? [] : [`${words} ${significant(value, 3)}${unit}`]
  return [
    ...row('peak', drawn.peakCd, ' cd'),
    ...row('beam angle', drawn.beamDeg, '°'),
    ...row('field angle', drawn.fieldDeg, '°'),
    ...row('light out', drawn.lumens, ' lm'),
  ]
}

/** A table to fill in, which `measure fit` and the page read back: with decimal commas its columns are parted by semicolons. */
export function planCsv(plan: MeasuringPlan, decimal: DecimalMark = '.'): string {
  const number = (x: number) => String(x).replace('.', decimal)
  const line = (...cells: string[]) => cells.join(decimal === ',' ? ';' : ',')
  const row = (at: number, { lx }: PlannedPlace) => line(number(at), number(Number(lx.toPrecision(3))), '')
  const wall = (name: string, places: readonly PlannedPlace[], at: (p: PlannedPlace) => number) =>
    [line(`${name} mm`, 'expected', 'lx'), ...places.map((p) => row(at(p), p))].join('\n')
  const head = [
    `wall: ${number(plan.wallM)} m`,
    ...(plan.mode === null ? [] : [`mode: ${plan.mode}`]),
    `after: ${plan.afterS} s`,
    'when: ',
    'ambient: ',
    'stray: ',
    'meter class: ',
    'calibration: ',
    'faces: wall',
    'aimed: brightest',
  ]
  const axis = [line('distance m', 'expected', 'lx'), ...plan.axis.map((p) => row(p.distanceM, p))].join('\n')
  return `${[head.join('\n'), wall('across', plan.across, (p) => p.xMm), wall('up', plan.up, (p) => p.yMm), axis].join('\n\n')}\n`
}

/** A whole page without scripts and outside resources: steps first, then tables with empty columns. */
export function planHtml(words: PlanWords): string {
  return `<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width,initial-scale=1"><title>${escapeHtml(words.title)}</title><style>${STYLE}</style></head>
<body>${planInner(words)}</body></html>
`
}

/** The page's article, for embedding; every name in it is escaped. */
function planInner(words: PlanWords): string {
  const items = (tag: 'ul' | 'ol', lines: readonly string[]) =>
    `<${tag}>${lines.map((line) => `<li>${escapeHtml(line)}</li>`).join('')}</${tag}>`
  const table = ({ title, head, rows }: PlanTable) =>
    `<table><caption>${escapeHtml(title)}</caption><thead><tr>${head.map((h) => `<th>${escapeHtml(h)}</th>`).join('')}</tr></thead><tbody>${rows
      .map((row) => `<tr>${row.map((cell) => `<td>${escapeHtml(cell)}</td>`).join('')}</tr>`)
      .join('')}</tbody></table>`
  return `<article class="measuring"><h1>${escapeHtml(words.title)}</h1>
<h2>Before you switch on</h2>${items('ul', words.safety)}
<h2>How</h2>${items('ol', words.steps)}
<h2>FL 1’s figures</h2>${items('ul', words.fl1).replace('<ul>', '<ul class="plain">')}
<p>Date ________ Meter ____________ Ambient ______ °C Stray ______ lx</p>
<div class="tables">${words.tables.map(table).join('')}</div>
<p>As drawn: ${escapeHtml(words.drawn.join(', '))}. Expected lux are a computed prediction.</p></article>`
}

const STYLE = `@page{size:auto;margin:12mm}body{margin:0;background:#fff}
.measuring{color:#111;font:10.5pt/1.35 "Helvetica Neue",Arial,"Liberation Sans",sans-serif;font-variant-numeric:tabular-nums;max-width:190mm;padding:3mm}
h1{font-size:17pt;margin:0 0 2mm}h2{font-size:12pt;margin:3mm 0 1mm}li{margin-bottom:.8mm}ul.plain{border:0;list-style:disc;padding-left:5mm}ul:not(.plain){border-left:1mm solid #b3121d;list-style:none;padding-left:3mm}
.tables{display:grid;grid-template-columns:repeat(auto-fit,minmax(55mm,1fr));gap:4mm;align-items:start}
table{border-collapse:collapse;width:100%}caption{text-align:left;font-weight:700}th,td{border:.2mm solid #777;padding:1mm 1.5mm;text-align:right}td:last-child{width:40%}tr{break-inside:avoid}`
