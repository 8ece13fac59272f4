// The danger sheet as a page to print and hang up: a complete HTML document as a string, without scripts and external resources. One page
// A4, in Arial or a font as wide as DejaVu Sans: of what is alike one row, and places that nobody can reach stand on the screen's sheet only.

import { groupSentence } from '../checks/eyeWords.ts'
import { findingsIn } from '../checks/finding.ts'
import { counted, harmWords, inSentence, kWm2 } from '../checks/words.ts'
import { upperKWm2 } from '../hazard/discs.ts'
import type { EyeDistances } from '../hazard/eyeSheet.ts'
import { materialName } from '../hazard/inTheWay.ts'
import type { ClearOf, DangerReading } from '../job/danger/result.ts'
import { elementsOf, labelOf, type RowElement } from '../lamp/assembly.ts'
import type { MaterialId } from '../lamp/danger.ts'
import type { Lamp } from '../lamp/schema.ts'
import { frontWord, lensesOf } from '../library/lensSystem.ts'
import { distanceText, inEither, inSystem, sizeNumber, sizeText, temperatureText } from '../num/quantity.ts'
import { inThousands } from '../num/thousands.ts'
import type { UnitSystem } from '../num/unitSystem.ts'
import {
  alsoHappens,
  beforePower,
  belowWords,
  coverRule,
  FIRST_RULE,
  LANDS_WHERE,
  SCREENING_NOTE,
  trafficSentence,
  upDegrees,
  upDistance,
} from './danger.ts'
import { leadDistances } from './dangerLead.ts'
import { dangerOutline } from './dangerOutline.ts'
import { besideSentences, coarseSentences, lightSentence } from './dangerPlaces.ts'
import { type Pictogram, pictogram } from './pictograms.ts'

/** Escapes names, which are untrusted. */
export const escapeHtml = (text: string): string =>
  text.replace(/[&<>"']/g, (c) => ({ '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;', "'": '&#39;' })[c]!)

export interface DangerPage {
  title: string
  /** CSS rules for `inner`. */
  style: string
  /** One article. Every name in it is escaped; it has no scripts, no external resources and no styles of its own. */
  inner: string
  /** What a printed document has besides: `@page` and the rules of the paper; the body around `inner`, with the head of every page. */
  paper: { style: string; body: string }
}

/** The page in parts, for embedding in another page. `missing`: a sentence for each part of the results that has not been computed. */
export function dangerPage(
  found: DangerReading,
  lamp: Lamp,
  missing: readonly string[] = [],
  system: UnitSystem = 'metric',
): DangerPage {
  const d = { ...found, findings: findingsIn(found.findings, system) }
  const inBoth = `<article class="sheet">
<header><h1>Danger <small translate="no">${escapeHtml(d.lamp)}</small></h1><p>${FIRST_RULE}</p></header>
${lead(d, system)}
${changedNote(d)}
${missingNote(missing)}
${severeNote(d)}
<div class="two">
${block('fire', 'Keep clear of the beam', `${clearTable(d)}${besideNote(d, system)}${dangerOutline(d, system)}`)}
<div>${block('eye', 'Eyes', eyeTable(d, system))}
${block('sun', 'In the sun', sunText(d, lamp))}
${coverBlock(lamp)}</div>
</div>
${block('things', 'Nothing in the way', thingTable(d))}
<section><div><h2>Before power</h2><ul class="ticks">${beforePower(lamp)
    .map((line) => `<li>${line}</li>`)
    .join('')}</ul></div></section>
<footer><p>${inputs(d, lamp)} All figures are upper ends at 95 %. ${SCREENING_NOTE}</p></footer>
</article>`
  const inner = inSystem(inBoth, system)
  return {
    title: `${d.lamp}: danger sheet`,
    style: STYLE,
    inner,
    paper: { style: PAPER, body: `<main>\n${everyPage(d, missing)}${inner}\n</main>` },
  }
}

export function dangerSheetHtml(
  d: DangerReading,
  lamp: Lamp,
  missing: readonly string[] = [],
  system: UnitSystem = 'metric',
): string {
  const { title, style, paper } = dangerPage(d, lamp, missing, system)
  return `<!doctype html>
<html lang="en"><head><meta charset="utf-8"><title>${escapeHtml(title)}</title><style>${paper.style}${style}</style></head>
<body>${paper.body}</body></html>
`
}

/** The header of every printed page. */
function everyPage(d: DangerReading, missing: readonly string[]): string {
  const n = d.findings.filter((f) => f.severity === 'severe').length
  if (n === 0 && missing.length === 0) return ''
  const count = n === 0 ? [] : [`${n === 1 ? 'one severe finding' : `${n} severe findings`}.`]
  return `<p class="every">${escapeHtml(d.lamp)}: ${[...count, ...missing.map(escapeHtml)].join(' ')}</p>`
}

/** What nobody has looked for must not read as "nothing found". */
const missingNote = (missing: readonly string[]): string =>
  missing.length === 0
    ? ''
    : `<div class="severe"><strong>Not complete</strong><ul>${missing.map((m) => `<li>${escapeHtml(m)}</li>`).join('')}</ul></div>`

const paragraph = (text: string): string => `<p>${text}</p>`

/** The three most important distances, large enough to read from a distance. */
const lead = (d: DangerReading, system: UnitSystem): string =>
  `<div class="lead">${leadDistances(d, system)
    .map(
      ({ of, what, figure, reached }) =>
        `<div>${pictogram(of, 12)}<p>${what}${reached && of !== 'eye' ? ': keep clear by' : ''}<b>${figure}</b></p></div>`,
    )
    .join('')}</div>`

const block = (name: Pictogram, title: string, inner: string): string =>
  `<section>${pictogram(name, 9)}<div><h2>${title}</h2>${inner}</div></section>`

function coverBlock(lamp: Lamp): string {
  const rule = coverRule(lamp)
  return rule === null
    ? ''
    : block(
        'cover',
        'Cover',
        rule
          .split(/(?<=\.) /)
          .map(paragraph)
          .join(''),
      )
}

const table = (rows: readonly (readonly string[])[]): string =>
  `<table>${rows.map((cells) => `<tr>${cells.map((c, i) => (i === 0 ? `<th>${c}</th>` : `<td>${c}</td>`)).join('')}</tr>`).join('')}</table>`

function changedNote(d: DangerReading): string {
  const changed = d.clear.filter((c) => c.changedFrom !== null)
  if (changed.length === 0) return ''
  const each = changed.map((c) => `${inSentence(c.name)} ${digits(c.kWm2)} in place of ${digits(c.changedFrom!)} kW/m²`)
  return `<p class="changed">Thresholds changed by hand: ${each.join('; ')}.</p>`
}

/** Eyes first: in a blink, and for good. Then the sun: in less than a second, with nobody near. Others keep their order. */
const FIRST = ['eye', 'sun-from-a-side', 'sun-beside', 'sun-thrown-back', 'sun-over-the-day', 'bare-lens']
const rankOf = (rule: string): number => (FIRST.includes(rule) ? FIRST.indexOf(rule) : FIRST.length)

/** A design with severe findings can be printed, but never silently. */
function severeNote(d: DangerReading): string {
  const severe = d.findings.filter((f) => f.severity === 'severe').sort((a, b) => rankOf(a.rule) - rankOf(b.rule))
  if (severe.length === 0) return ''
  return `<div class="severe"><strong>${severe.length === 1 ? 'One severe finding' : `${severe.length} severe findings`}</strong><ul>${severe.map((f) => `<li>${escapeHtml(f.title)}</li>`).join('')}</ul></div>`
}

/** Kept short, so that the sheet stays one page: of what is alike the row that reaches farthest, then the soonest. */
const ALIKE: readonly { name: string; ids: readonly MaterialId[] }[] = [
  { name: 'Cloth', ids: ['dark-cloth', 'synthetic-cloth'] },
  { name: 'Plastic, sleeves, bags', ids: ['black-plastic', 'pvc', 'polyethylene'] },
]

/** Nobody keeps a distance to the millimetre. */
const LEAST_CLEAR_MM = 10

function clearRows(d: DangerReading): ClearOf[] {
  const groupOf = (id: MaterialId) => ALIKE.find((g) => g.ids.includes(id))
  const farther = (a: ClearOf, b: ClearOf) => b.clearDistanceMm > a.clearDistanceMm || b.shareAtWorst > a.shareAtWorst
  const rows = new Map<string, ClearOf>()
  for (const c of d.clear) {
    const name = groupOf(c.id)?.name ?? c.name
    const known = rows.get(name)
    const changedFrom = known?.changedFrom ?? c.changedFrom
    rows.set(name, { ...(known && !farther(known, c) ? known : c), name, changedFrom })
  }
  return [...rows.values()].sort((a, b) => b.clearDistanceMm - a.clearDistanceMm || b.shareAtWorst - a.shareAtWorst)
}

function clearTable(d: DangerReading): string {
  return table([
    ['What', 'Clear\u00a0by', 'At the worst place'],
    ...clearRows(d).map((c) => [
      `${c.name}${c.changedFrom === null ? '' : ' <em>changed</em>'}`,
      c.clearDistanceMm > 0
        ? `<b>${upDistance(Math.max(LEAST_CLEAR_MM, c.clearDistanceMm), '\u00a0')}</b>`
        : 'not\u00a0reached',
      c.secondsAtWorst === null ? belowWords(c.shareAtWorst) : `${harmWords(c.harm)} in ${time(c.secondsAtWorst)}`,
    ]),
  ])
}

/** Light beside the beam, where it can harm (a severe finding says it itself), and what the searches left out. */
function besideNote(d: DangerReading, system: UnitSystem): string {
  const harms = d.findings.some((f) => f.rule === 'light-beside' && f.severity !== 'severe')
  const coarse = (['own', 'sun', 'bare lens'] as const).flatMap((light) => coarseSentences(d, light, system))
  return [...(harms ? besideSentences(d, system) : []), ...coarse].map(paragraph).join('')
}

function eyeTable({ eye }: DangerReading, system: UnitSystem): string {
  if (!eye) return '<p>No light leaves the lamp.</p>'
  const metres = (m: number) =>
    m > 0 ? `<b>${upDistance(1000 * m, '\u00a0')}</b>` : inEither('&lt;\u00a00.2\u00a0m', '&lt;\u00a08\u00a0in')
  const row = (name: string, e: EyeDistances) => [
    name,
    metres(e.metres.blink),
    metres(e.metres.tenSeconds),
    metres(e.metres.hundredSeconds),
    metres(e.noLimitM),
  ]
  const aside = eye.distances.filter((e) => e.angleDeg === 10 || e.angleDeg === 30)
  const rows = [
    row('Worst place', eye.distances[0]),
    ...aside.map((e) => row(`From ${e.angleDeg}° off`, e)),
    row('Field glasses', eye.glasses),
  ]
  const distances = table([['Looking for', 'a blink', '10 s', '100 s', 'no\u00a0limit'], ...rows])
  const sentences = [
    'Never look in, least of all through field glasses.',
    `${groupSentence(eye.risk)}.`,
    trafficSentence(eye, system),
  ]
  return `${distances.replace('<table>', '<table class="eyes">')}${sentences.map(paragraph).join('')}`
}

/** Beyond so many, only the last to come to harm are left to the screen's sheet. */
const MOST_THINGS = 8

function thingTable(d: DangerReading): string {
  const soonest = [...d.things].sort(
    (a, b) => (a.secondsToHarm ?? Infinity) - (b.secondsToHarm ?? Infinity) || b.shareOfLimit - a.shareOfLimit,
  )
  const rows = soonest
    .slice(0, MOST_THINGS)
    .map((t) => [
      `${escapeHtml(t.name)}${t.material === 'skin' ? '' : ` (${inSentence(materialName(t.material))})`}`,
      t.settlesC === null ? '' : `up\u00a0to\u00a0${upDegrees(t.settlesC)}`,
      [
        t.secondsToHarm === null
          ? belowWords(t.shareOfLimit)
          : `<b>${harmWords(t.harm)}</b> in ${time(t.secondsToHarm)}`,
        ...alsoHappens(t, time).map(escapeHtml),
      ].join(', '),
    ])
  const more = soonest.length - rows.length
  return `${table(rows)}${more > 0 ? paragraph(`${more} more on the sheet on screen.`) : ''}`
}

/** What a severe finding says isn't said again. */
function sunText(d: DangerReading, lamp: Lamp): string {
  const { sunDay: day } = d
  const severeRules = new Set(d.findings.filter((f) => f.severity === 'severe').map((f) => f.rule))
  const rows = sunRows(d).flatMap(({ rule, cells }) => (severeRules.has(rule) ? [] : [cells]))
  const lines: string[] = []
  if (severeRules.has('sun-over-the-day') || severeRules.has('sun-from-a-side'))
    lines.push(`The ${lensesOf(lamp).length > 0 ? 'lens' : 'lamp'} focuses the sun inside: see the findings.`)
  if (day?.worst && !severeRules.has('sun-over-the-day'))
    lines.push(
      `Lying at latitude ${digits(day.place.latitudeDeg)}°, ${frontWord(lamp)} ${digits(day.place.lensUpDeg)}° up: ${day.plasticSeconds === null ? 'the spot stays too weak to light plastic.' : `it lights plastic inside in <b>${time(day.plasticSeconds)}</b>.`}`,
    )
  if (day?.worst) lines.push(`An opaque cover keeps the sun out. A black one gets to ${upDegrees(day.coverC)}.`)
  return `${rows.length > 0 ? table([['Where it is focused', 'Up\u00a0to', 'Sun off\u00a0axis'], ...rows]) : ''}${lines.map(paragraph).join('')}`
}

interface SunRow {
  /** The finding that says the same. */
  rule: string
  cells: string[]
}

function sunRows({ sunMap, sunPlaces, sunDay, bareLens }: DangerReading): SunRow[] {
  const worst = sunMap.reduce<DangerReading['sunMap'][number] | null>(
    (a, b) => (a && upperKWm2(a) >= upperKWm2(b) ? a : b),
    null,
  )
  const row = (rule: string, where: string, kWm2Upper: number, tiltDeg: number | null): SunRow => ({
    rule,
    cells: [where, `<b>${kWm2(kWm2Upper).replace(' ', '\u00a0')}</b>`, tiltDeg === null ? '' : `${digits(tiltDeg)}°`],
  })
  const rows: SunRow[] = []
  if (bareLens)
    rows.push(
      row(
        'bare-lens',
        `Behind the lens alone, ${distanceText(`${digits(bareLens.focusMm / 1000)} m`, bareLens.focusMm)}`,
        bareLens.kWm2,
        null,
      ),
    )
  if (worst) {
    const on = `${LANDS_WHERE[worst.lands]}${worst.board === null ? '' : ` ${escapeHtml(worst.board)}`}`
    rows.push(row('sun-from-a-side', `In the lamp: ${on}`, upperKWm2(worst), worst.tiltDeg))
  }
  if (sunDay?.turned)
    rows.push(row('sun-over-the-day', 'Turned to the sun, that day', sunDay.turned.kWm2, sunDay.turned.tiltDeg))
  for (const p of sunPlaces) {
    if (p.zone === 'outside') rows.push(row('sun-beside', 'Outside the lamp, beside it', upperKWm2(p), p.tiltDeg))
    if (p.zone === 'front') rows.push(row('sun-thrown-back', 'Thrown back before the lamp', upperKWm2(p), p.tiltDeg))
  }
  return rows
}

function inputs(d: DangerReading, lamp: Lamp): string {
  const none = lensesOf(lamp).length === 0 ? ['no lens'] : []
  const row = elementsOf(lamp).map((e) => pieceInput(e.isLens ? 'lens' : escapeHtml(labelOf(e)), e))
  const lens = [...none, ...row].join(', ')
  const stretches = 1 + (lamp.tunnel?.joints?.length ?? 0)
  const tunnel = lamp.tunnel
    ? `tunnel ${stretches > 1 ? `of ${stretches} stretches ` : ''}to ${size(lamp.tunnel.zOutMm)}`
    : 'no tunnel'
  return `${escapeHtml(lightSentence(d))} Inputs: ${counted(lamp.boards.length, 'board')}, ${lens}, ${tunnel}, air at ${temperatureText(digits(d.ambientC), d.ambientC)}, ${faceWords(d)}sun ${digits(d.sunWm2)} W/m² across the rays, spots over ${size(d.discMm)}; ${inThousands(d.rays)} rays, seed ${d.seed}.`
}

const pieceInput = (name: string, { kind, diameterMm, heightMm }: RowElement): string =>
  `${name} ${heightMm === undefined ? size(diameterMm) : `${sizeNumber(digits(diameterMm), diameterMm)} × ${size(heightMm)}`} (${kind})`

const faceWords = ({ parts: { boards } }: DangerReading): string =>
  boards ? `face at ${upDegrees(boards.faceC)} (${escapeHtml(boards.faceFrom)}), ` : ''

const size = (mm: number): string => sizeText(digits(mm), mm)

/** Three digits, without an exponent. */
const digits = (x: number): string => inThousands(Number(x.toPrecision(3)))

/** Rounded down, since a shorter time is the safe side. */
function time(s: number): string {
  if (s < 1) return 'under 1\u00a0s'
  return s < 120 ? `${Math.floor(s)}\u00a0s` : `${Math.floor(s / 60)}\u00a0min`
}

const FONT = '"Helvetica Neue",Arial,"Liberation Sans","DejaVu Sans Condensed",sans-serif'

const PAPER = `
@page{size:A4;margin:7mm 10mm}
body{margin:0;background:#fff}
main{display:table;width:100%}
.every{display:table-header-group;color:#b3121d;font:700 8.5pt/1.2 ${FONT}}`

const STYLE = `
*{box-sizing:border-box}
.sheet{max-width:190mm;margin:0 auto;padding:1mm 0;color:#111;background:#fff;font:8.5pt/1.18 ${FONT};text-wrap:pretty;font-variant-numeric:tabular-nums}
@media screen{.sheet{padding:2mm}}
header{border-top:3mm solid;border-image:repeating-linear-gradient(135deg,#111 0 4mm,#f5c400 4mm 8mm) 20;padding-top:1mm}
h1{margin:0;font-size:20pt;line-height:1.1}h1 small{font-size:13pt;font-weight:400;margin-left:3mm}
h2{margin:0 0 .5mm;font-size:12pt;line-height:1.15}
.lead{display:grid;grid-template-columns:repeat(3,1fr);gap:4mm;margin:1.5mm 0}.lead div{display:flex;gap:3mm;align-items:center;border:.6mm solid #111;padding:1mm 2mm}.lead p{margin:0}.lead b{display:block;font-size:18pt;line-height:1.1}
p{margin:0 0 .7mm}
section{display:flex;gap:2mm;padding:.8mm 0;border-top:.3mm solid #111;break-inside:avoid}
section>svg{flex:none}section>div{flex:1;min-width:0}
.two{display:grid;grid-template-columns:1fr 1fr;gap:5mm}
table{border-collapse:collapse;width:100%;margin-bottom:.8mm}
th{text-align:left;font-weight:400}th,td{padding:.25mm 1.5mm .25mm 0;vertical-align:top}td{text-align:right}td:last-child{text-align:left}.eyes td{padding-left:1mm}.eyes th{white-space:nowrap}
tr+tr>*{border-top:.1mm solid #999}
em{font-style:normal;font-weight:700;border:.3mm solid;padding:0 .8mm}
.severe,.changed{border:.6mm solid #b3121d;padding:.8mm 2mm;margin:1.2mm 0}
.severe ul{margin:.5mm 0 0;padding-left:4mm;columns:2;column-gap:4mm}.severe li{break-inside:avoid;margin-bottom:.4mm}
.changed{border-style:dashed;font-weight:700}
.ticks{list-style:none;margin:0;padding:0;columns:2}.ticks li{padding-left:5mm;position:relative;margin-bottom:.4mm;break-inside:avoid}
.ticks li::before{content:"";position:absolute;left:0;top:.5mm;width:3mm;height:3mm;border:.3mm solid #111}
.outline{width:100%;height:auto;margin-top:.5mm}
footer{border-top:.3mm solid #111;padding-top:1mm}footer p{margin:0}
`
