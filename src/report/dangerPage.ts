// The danger sheet as a page to print and hang up: a complete HTML document as a string, without scripts and external resources.

import { groupSentence } from '../checks/eyeWords.ts'
import { upperKWm2 } from '../hazard/discs.ts'
import type { EyeDistances } from '../hazard/eyeSheet.ts'
import { materialName } from '../hazard/inTheWay.ts'
import type { ClearOf, DangerReading } from '../job/danger/result.ts'
import type { MaterialId } from '../lamp/danger.ts'
import type { Lamp } from '../lamp/schema.ts'
import {
  alsoHappens,
  BEFORE_POWER,
  belowWords,
  COVER_RULE,
  eyeLeadSentence,
  FIRST_RULE,
  LANDS_WHERE,
  SCREENING_NOTE,
  trafficSentence,
  upDegrees,
  upMetres,
} from './danger.ts'
import { leadDistances } from './dangerLead.ts'
import { dangerOutline } from './dangerOutline.ts'
import { lightSentence, ownPlaceSentences, sunPlaceSentences, turnedSentence } from './dangerPlaces.ts'
import { type Pictogram, pictogram } from './pictograms.ts'

/** Escapes names, which are untrusted. */
export const escapeHtml = (text: string): string =>
  text.replace(/[&<>"']/g, (c) => ({ '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;', "'": '&#39;' })[c]!)

export interface DangerPage {
  title: string
  /** CSS rules for `inner`; `@page` and the rules of the paper are only in the whole document. */
  style: string
  /** One article. Every name in it is escaped; it has no scripts and no external resources. */
  inner: string
}

/** The page in parts, for embedding in another page. */
export const dangerPage = (d: DangerReading, lamp: Lamp): DangerPage => ({
  title: `${escapeHtml(d.lamp)}: danger sheet`,
  style: STYLE,
  inner: `<article class="sheet">
<header><h1>Danger <small>${escapeHtml(d.lamp)}</small></h1><p>${FIRST_RULE}</p></header>
${lead(d)}
${changedNote(d)}
${severeNote(d)}
<div class="two">
${block(
  'fire',
  'Keep clear of the beam',
  `${clearTable(d)}<p>Times at the worst place.</p>${ownPlaceSentences(d)
    .map((line) => `<p>${line}</p>`)
    .join('')}${dangerOutline(d)}`,
)}
<div>${block('eye', 'Eyes', eyeTable(d))}
${block('sun', 'In the sun', sunText(d))}</div>
</div>
${block('things', 'Nothing in the way', thingTable(d))}
${block('cover', 'Cover', `<p>${COVER_RULE}</p>`)}
<section><div><h2>Before power</h2><ul class="ticks">${BEFORE_POWER.map((line) => `<li>${line}</li>`).join('')}</ul></div></section>
<footer><p>${inputs(d, lamp)}</p><p>All figures are upper ends at 95 % of what was computed. ${SCREENING_NOTE}</p></footer>
</article>`,
})

export function dangerSheetHtml(d: DangerReading, lamp: Lamp): string {
  const { title, style, inner } = dangerPage(d, lamp)
  return `<!doctype html>
<html lang="en"><head><meta charset="utf-8"><title>${title}</title><style>${PAPER}${style}</style></head>
<body><main>
${everyPage(d)}${inner}
</main></body></html>
`
}

/** The header of every printed page. */
function everyPage(d: DangerReading): string {
  const n = d.findings.filter((f) => f.severity === 'severe').length
  return n === 0
    ? ''
    : `<p class="every">${escapeHtml(d.lamp)}: ${n === 1 ? 'one severe finding' : `${n} severe findings`}.</p>`
}

/** The three most important distances, large enough to read from a distance. */
const lead = (d: DangerReading): string =>
  `<div class="lead">${leadDistances(d)
    .map(({ of, what, figure }) => `<div>${pictogram(of, 13)}<p>${what}<b>${figure}</b></p></div>`)
    .join('')}</div>`

const block = (name: Pictogram, title: string, inner: string): string =>
  `<section>${pictogram(name, 11)}<div><h2>${title}</h2>${inner}</div></section>`

const table = (rows: readonly (readonly string[])[]): string =>
  `<table>${rows.map((cells) => `<tr>${cells.map((c, i) => (i === 0 ? `<th>${c}</th>` : `<td>${c}</td>`)).join('')}</tr>`).join('')}</table>`

function changedNote(d: DangerReading): string {
  const changed = d.clear.filter((c) => c.changedFrom !== null)
  if (changed.length === 0) return ''
  const each = changed.map(
    (c) => `${c.name.toLowerCase()} ${digits(c.kWm2)} in place of ${digits(c.changedFrom!)} kW/m²`,
  )
  return `<p class="changed">Thresholds changed by hand: ${each.join('; ')}.</p>`
}

/** A design with severe findings can be printed, but never silently. */
function severeNote(d: DangerReading): string {
  const severe = d.findings.filter((f) => f.severity === 'severe')
  if (severe.length === 0) return ''
  return `<div class="severe"><strong>${severe.length === 1 ? 'One severe finding' : `${severe.length} severe findings`}</strong><ul>${severe.map((f) => `<li>${escapeHtml(f.title)}</li>`).join('')}</ul></div>`
}

/** Kept short, so that the sheet stays one page: of what is alike the row that reaches farthest, then the soonest. */
const ALIKE: readonly { name: string; ids: readonly MaterialId[] }[] = [
  { name: 'Cloth', ids: ['dark-cloth', 'synthetic-cloth'] },
  { name: 'Plastic parts, sleeves, bags', ids: ['black-plastic', 'pvc', 'polyethylene'] },
]

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
  return [...rows.values()]
}

function clearTable(d: DangerReading): string {
  return table(
    clearRows(d).map((c) => [
      `${c.name}${c.changedFrom === null ? '' : ' <em>changed</em>'}`,
      c.clearDistanceMm > 0 ? `<b>${upMetres(c.clearDistanceMm)}\u00a0m</b>` : 'not\u00a0reached',
      c.secondsAtWorst === null ? belowWords(c.shareAtWorst) : `${c.harm} in ${time(c.secondsAtWorst)}`,
    ]),
  )
}

function eyeTable({ eye }: DangerReading): string {
  if (!eye) return '<p>No light leaves the lamp.</p>'
  const metres = (m: number) => (m > 0 ? `<b>${upMetres(1000 * m)}\u00a0m</b>` : 'under\u00a00.2\u00a0m')
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
    ...aside.map((e) => row(`${e.angleDeg}° aside or more`, e)),
    row('Field glasses', eye.glasses),
  ]
  const distances = table([['Keep away for', 'a blink', '10 s', '100 s', 'no limit'], ...rows])
  return `${distances.replace('<table>', '<table class="eyes">')}<p>${eyeLeadSentence(eye)} Never look in, least of all through field glasses. ${groupSentence(eye.risk)}. ${trafficSentence(eye)}</p>`
}

const thingTable = (d: DangerReading): string =>
  table(
    d.things.map((t) => [
      `${escapeHtml(t.name)} (${materialName(t.material).toLowerCase()})`,
      t.settlesC === null ? '' : `up\u00a0to\u00a0${upDegrees(t.settlesC)}`,
      [
        t.secondsToHarm === null ? belowWords(t.shareOfLimit) : `<b>${t.harm}</b> in ${time(t.secondsToHarm)}`,
        ...alsoHappens(t, time),
      ].join(', '),
    ]),
  )

function sunText(d: DangerReading): string {
  const { sunDay: day, bareLens: bare } = d
  const worst = d.sunMap.reduce<DangerReading['sunMap'][number] | null>(
    (a, b) => (a && upperKWm2(a) >= upperKWm2(b) ? a : b),
    null,
  )
  const lines: string[] = []
  if (worst)
    lines.push(
      `Worst: <b>${digits(upperKWm2(worst))} kW/m²</b> with the sun ${digits(worst.tiltDeg)}° off the axis, ${LANDS_WHERE[worst.lands]}${worst.board === null ? '' : ` ${escapeHtml(worst.board)}`}.`,
    )
  if (day?.worst)
    lines.push(
      `Lying at latitude ${digits(day.place.latitudeDeg)}°, lens ${digits(day.place.lensUpDeg)}° up: ${day.plasticSeconds === null ? 'the spot stays too weak to light plastic.' : `lights plastic inside in ${time(day.plasticSeconds)}, for ${day.hoursOverPlastic.toFixed(1)} h of a clear day.`}`,
      `With an opaque cover it is dark inside; a black cover gets to ${upDegrees(day.coverC)}.`,
    )
  lines.push(...[turnedSentence(d), ...sunPlaceSentences(d)].filter((t) => t !== ''))
  if (bare) lines.push(`The lens alone: <b>${digits(bare.kWm2)} kW/m²</b> ${digits(bare.focusMm / 1000)} m behind it.`)
  return lines.map((line) => `<p>${line}</p>`).join('')
}

function inputs(d: DangerReading, lamp: Lamp): string {
  const lens = lamp.lens ? `lens ${digits(lamp.lens.diameterMm)} mm (${lamp.lens.kind})` : 'no lens'
  const tunnel = lamp.tunnel ? `tunnel to ${digits(lamp.tunnel.zOutMm)} mm` : 'no tunnel'
  return `${escapeHtml(lightSentence(d))} Inputs: ${lamp.boards.length} boards, ${lens}, ${tunnel}, air at ${digits(d.ambientC)} °C, ${faceWords(d)}sun ${digits(d.sunWm2)} W/m² across the rays, spots over ${digits(d.discMm)} mm; ${d.rays.toLocaleString('en-GB')} rays, seed ${d.seed}.`
}

const faceWords = ({ parts: { boards } }: DangerReading): string =>
  boards ? `face at ${upDegrees(boards.faceC)} (${escapeHtml(boards.faceFrom)}), ` : ''

/** Three digits, without an exponent. */
const digits = (x: number): string => Number(x.toPrecision(3)).toLocaleString('en-GB')

/** Rounded down, since a shorter time is the safe side. */
function time(s: number): string {
  if (s < 1) return 'under 1\u00a0s'
  return s < 120 ? `${Math.floor(s)}\u00a0s` : `${Math.floor(s / 60)}\u00a0min`
}

const PAPER = `
@page{size:A4;margin:7mm 10mm}
body{margin:0;background:#fff}
main{display:table;width:100%}
.every{display:table-header-group;color:#b3121d;font:700 8pt/1.2 "Helvetica Neue",Arial,sans-serif}`

const STYLE = `
*{box-sizing:border-box}
.sheet{max-width:190mm;margin:0 auto;padding:2mm;color:#111;background:#fff;font:8.5pt/1.25 "Helvetica Neue",Arial,sans-serif;font-variant-numeric:tabular-nums}
header{border-top:5mm solid;border-image:repeating-linear-gradient(135deg,#111 0 4mm,#f5c400 4mm 8mm) 20;padding-top:2mm}
h1{margin:0;font-size:24pt;line-height:1.1}h1 small{font-size:13pt;font-weight:400;margin-left:3mm}
h2{margin:0 0 1mm;font-size:13pt}
.lead{display:grid;grid-template-columns:repeat(3,1fr);gap:4mm;margin:2mm 0}.lead div{display:flex;gap:3mm;align-items:center;border:.6mm solid #111;padding:2mm}.lead p{margin:0}.lead b{display:block;font-size:18pt;line-height:1.1}
p{margin:0 0 1mm}
section{display:flex;gap:3mm;padding:1.2mm 0;border-top:.3mm solid #111;break-inside:avoid}
section>svg{flex:none}section>div{flex:1;min-width:0}
.two{display:grid;grid-template-columns:1fr 1fr;gap:5mm}
table{border-collapse:collapse;width:100%}
th{text-align:left;font-weight:400}th,td{padding:.4mm 1.5mm .4mm 0;vertical-align:top}td{text-align:right}td:last-child{text-align:left}.eyes td{padding-left:3mm}
tr+tr>*{border-top:.1mm solid #999}
em{font-style:normal;font-weight:700;border:.3mm solid;padding:0 .8mm}
.severe,.changed{border:.6mm solid #b3121d;padding:1.5mm 2.5mm;margin:1.5mm 0}
.severe ul{margin:1mm 0 0;padding-left:4mm;columns:2;column-gap:5mm}.severe li{break-inside:avoid}
.changed{border-style:dashed;font-weight:700}
.ticks{list-style:none;margin:0;padding:0;columns:2}.ticks li{padding-left:6mm;position:relative;margin-bottom:.8mm;break-inside:avoid}
.ticks li::before{content:"";position:absolute;left:0;top:.5mm;width:3mm;height:3mm;border:.3mm solid #111}
.outline{width:100%;height:auto;max-height:24mm;margin-top:.5mm}
footer{border-top:.3mm solid #111;padding-top:1.5mm;font-size:8pt}
`
