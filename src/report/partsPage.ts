// The parts list as a page to print: a complete HTML document as a string, without scripts and external resources; the order of assembly after it.

import type { PartsList } from '../bill/partsList.ts'
import type { UnitSystem } from '../num/unitSystem.ts'
import type { StepWords } from './assembly.ts'
import { escapeHtml } from './dangerPage.ts'
import {
  amountWords,
  massOf,
  moneyWords,
  noteSentences,
  partWords,
  STEP_TITLES,
  sizeWords,
  sumSentences,
} from './partsTable.ts'

export interface PartsPage {
  title: string
  /** CSS rules for `inner`. */
  style: string
  /** One article. Every name in it is escaped; it has no scripts, no external resources and no styles of its own. */
  inner: string
  /** `@page` and the rules of the paper. */
  paper: string
}

/** The page in parts, for embedding in another page. `order`: in the same system of units; empty to leave it out. */
export function partsPage(list: PartsList, order: readonly StepWords[] = [], system: UnitSystem = 'metric'): PartsPage {
  return {
    title: `${list.lamp}: parts`,
    style: STYLE,
    inner: `<article class="parts">
<h1>Parts <small>${escapeHtml(list.lamp)}</small></h1>
${table(list, system)}
${[...sumSentences(list, system), ...noteSentences(list, system)].map((s) => `<p>${escapeHtml(s)}</p>`).join('\n')}
${order.length > 0 ? assembly(order) : ''}
</article>`,
    paper: PAPER,
  }
}

export function partsHtml(list: PartsList, order: readonly StepWords[] = [], system: UnitSystem = 'metric'): string {
  const { title, style, inner, paper } = partsPage(list, order, system)
  return `<!doctype html>
<html lang="en"><head><meta charset="utf-8"><title>${escapeHtml(title)}</title><style>${paper}${style}</style></head>
<body>${inner}</body></html>
`
}

function table({ parts, cost: { currency } }: PartsList, system: UnitSystem): string {
  const head = ['Part', 'Amount', 'Size', 'Material', 'Mass, all', 'Each', 'Cost']
  const rows = parts.map((p, i) => {
    const first = p.step !== parts[i - 1]?.step
    const money = (x: number | null) => (x === null ? '' : escapeHtml(moneyWords(x, currency)))
    const cells = [amountWords(p, system), sizeWords(p.size, system), p.material ?? '', massOf(p, system)].map(
      escapeHtml,
    )
    const what = `${escapeHtml(partWords(p))}${p.assumed ? ' <em>typical</em>' : ''}`
    return `${first ? `<tr class="step"><th colspan="${head.length}" scope="rowgroup">${escapeHtml(STEP_TITLES[p.step])}</th></tr>\n` : ''}<tr><th scope="row">${what}</th>${[...cells, money(p.price), money(p.cost)].map((c) => `<td>${c}</td>`).join('')}</tr>`
  })
  return `<table><thead><tr>${head.map((h) => `<th scope="col">${h}</th>`).join('')}</tr></thead><tbody>
${rows.join('\n')}
</tbody></table>`
}

function assembly(order: readonly StepWords[]): string {
  const list = (tag: string, items: readonly string[], kind: string) =>
    items.length > 0 ? `<${tag} class="${kind}">${items.map((t) => `<li>${t}</li>`).join('')}</${tag}>` : ''
  const steps = order.map(
    (s) => `<li><h3>${escapeHtml(s.title)}</h3><p>${escapeHtml(s.text)}</p>
${s.cautions.map((c) => `<p class="caution">${escapeHtml(c)}</p>`).join('')}
${list('ul', s.parts.map(escapeHtml), 'uses')}
${list(
  'ul',
  s.checks.map((c) => `${c.done ? '<b>done</b> ' : ''}${escapeHtml(c.text)}`),
  'ticks',
)}</li>`,
  )
  return `<h2>Order of assembly</h2>\n<ol class="steps">\n${steps.join('\n')}\n</ol>`
}

const FONT = '"Helvetica Neue",Arial,"Liberation Sans","DejaVu Sans Condensed",sans-serif'

const PAPER = `
@page{size:auto;margin:12mm}
body{margin:0;background:#fff}`

const STYLE = `
.parts{color:#111;background:#fff;font:9pt/1.3 ${FONT};font-variant-numeric:tabular-nums}
@media screen{.parts{padding:4mm}}
.parts h1{margin:0 0 2mm;font-size:18pt}.parts h1 small{font-size:12pt;font-weight:400;margin-left:3mm}
.parts h2{margin:4mm 0 1mm;font-size:13pt}.parts h3{margin:0;font-size:10.5pt;break-after:avoid}
.parts table{border-collapse:collapse;width:100%;margin-bottom:2mm}
.parts th{text-align:left;font-weight:400}.parts th,.parts td{padding:.5mm 2mm .5mm 0;vertical-align:top}
.parts thead th,.parts .step th{font-weight:700}.parts .step th{padding-top:1.5mm;break-after:avoid}
.parts thead{border-bottom:.4mm solid #111}.parts tr{break-inside:avoid}.parts tbody tr+tr>*{border-top:.1mm solid #999}
.parts td:nth-child(2),.parts td:nth-child(6),.parts td:nth-child(7){text-align:right;white-space:nowrap}
.parts em{font-style:normal;border:.2mm solid;padding:0 .8mm}
.parts p{margin:0 0 1mm}
.parts .caution{border:.5mm solid #b3121d;padding:.5mm 1.5mm;font-weight:700}
.parts .steps>li{margin-bottom:2.5mm}.parts ul{margin:.5mm 0;padding-left:5mm}
.parts .ticks{list-style:none}.parts .ticks li{position:relative}
.parts .ticks li::before{content:"";position:absolute;left:-5mm;top:.6mm;width:2.6mm;height:2.6mm;border:.3mm solid #111}
`
