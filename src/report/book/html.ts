// The book as one HTML file that needs nothing else: no scripts, no external resources. It prints on A4 and Letter.
import { printable } from '../../lamp/printable.ts'
import { PAPER_MM } from '../../library/typicalWorkshop.ts'
import { escapeHtml } from '../dangerPage.ts'
import type { Block, Book, Chapter, Figure, Mark, Style, Table } from './model.ts'

export function bookHtml(book: Book): string {
  const { title, foot, paper } = book
  const { widthMm, heightMm } = PAPER_MM[paper]
  const page = `@page{size:${widthMm}mm ${heightMm}mm;margin:16mm 15mm 18mm}`
  return `<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width"><title>${safe(title)}</title><style>${page}${STYLE}</style></head>
<body><main>
<header><h1>${safe(title)}</h1><p class="answer${book.answer.severe ? ' severe' : ''}">${safe(book.answer.text)}</p>${valuesHtml(book.facts)}</header>
<section class="cautions">${book.cautions.map(blockHtml).join('\n')}</section>
<nav><ol>${book.chapters.map((c) => `<li><a href="#${c.id}">${safe(c.title)}</a></li>`).join('')}</ol></nav>
${book.chapters.map(chapterHtml).join('\n')}
<footer>${safe(foot)}</footer>
</main></body></html>
`
}

/** Without control and direction characters, escaped. */
const safe = (text: string): string => escapeHtml(printable(text))

const chapterHtml = ({ id, title, blocks }: Chapter): string =>
  `<section id="${id}" class="chapter"><h2>${safe(title)}</h2>${blocks.map(blockHtml).join('\n')}</section>`

function blockHtml(block: Block): string {
  switch (block.kind) {
    case 'heading':
      return `<h3>${safe(block.text)}</h3>`
    case 'paragraph':
      return block.text
        .split('\n')
        .map((line) => `<p${block.quiet ? ' class="quiet"' : ''}>${safe(line)}</p>`)
        .join('')
    case 'list': {
      const tag = block.numbered ? 'ol' : 'ul'
      return `<${tag}>${block.items.map((i) => `<li>${safe(i)}</li>`).join('')}</${tag}>`
    }
    case 'table':
      return tableHtml(block)
    case 'values':
      return valuesHtml(block.rows)
    case 'note':
      return `<div class="note ${block.severity}"><strong>${safe(block.title)}</strong>${block.lines.map((l) => `<p>${safe(l)}</p>`).join('')}</div>`
    case 'checks':
      return `<ul class="checks">${block.items.map((i) => `<li class="${i.done ? 'done' : 'open'}">${safe(i.text)}${(i.remarks ?? []).map((r) => ` <b>${safe(r)}</b>`).join('')}</li>`).join('')}</ul>`
    case 'figure':
      return `<figure>${figureSvg(block.figure)}<figcaption>${safe(block.caption)}</figcaption></figure>`
    case 'image':
      return `<figure><img src="data:image/png;base64,${base64(block.png)}" alt="${safe(block.caption)}" width="${block.widthPx}" height="${block.heightPx}"><figcaption>${safe(block.caption)}</figcaption></figure>`
  }
}

const valuesHtml = (rows: readonly (readonly [string, string])[]): string =>
  `<dl>${rows.map(([name, value]) => `<div><dt>${safe(name)}</dt><dd>${safe(value)}</dd></div>`).join('')}</dl>`

function tableHtml({ head, rows, right = [], caption, sum }: Table): string {
  const isRight = (i: number) => (right.includes(i) ? ' class="r"' : '')
  const top = head
    ? `<thead><tr>${head.map((h, i) => `<th scope="col"${isRight(i)}>${safe(h)}</th>`).join('')}</tr></thead>`
    : ''
  const body = rows
    .map((row, k) => {
      const cells = row.map((c, i) =>
        i === 0 ? `<th scope="row"${isRight(i)}>${safe(c)}</th>` : `<td${isRight(i)}>${safe(c)}</td>`,
      )
      return `<tr${sum && k === rows.length - 1 ? ' class="sum"' : ''}>${cells.join('')}</tr>`
    })
    .join('')
  return `<table>${caption ? `<caption>${safe(caption)}</caption>` : ''}${top}<tbody>${body}</tbody></table>`
}

/** A figure as SVG; text as text. `inFile`: as a file by itself, not inside a page. */
export function figureSvg({ width, height, marks, words }: Figure, inFile = false): string {
  return `<svg${inFile ? ' xmlns="http://www.w3.org/2000/svg"' : ''} viewBox="0 0 ${n(width)} ${n(height)}" role="img" aria-label="${safe(words)}" font-family="Arial,'Liberation Sans',sans-serif">${marks.map(markSvg).join('')}</svg>`
}

const n = (x: number): string => String(Number(x.toFixed(2)))

function markSvg(mark: Mark): string {
  if (mark.kind === 'text') {
    const turn = mark.turnDeg ? ` transform="rotate(${n(-mark.turnDeg)} ${n(mark.x)} ${n(mark.y)})"` : ''
    return `<text x="${n(mark.x)}" y="${n(mark.y)}" font-size="${n(mark.size)}" text-anchor="${mark.anchor ?? 'start'}"${mark.bold ? ' font-weight="700"' : ''} fill="${mark.colour ?? '#111'}"${turn}>${safe(mark.text)}</text>`
  }
  if (mark.kind === 'circle') return `<circle cx="${n(mark.x)}" cy="${n(mark.y)}" r="${n(mark.r)}"${styleSvg(mark)}/>`
  const tag = mark.closed ? 'polygon' : 'polyline'
  return `<${tag} points="${mark.points.map(([x, y]) => `${n(x)},${n(y)}`).join(' ')}"${styleSvg(mark)}/>`
}

const styleSvg = ({ stroke, width, fill, dash }: Style): string =>
  `${stroke ? ` stroke="${stroke}" stroke-width="${n(width ?? 1)}" stroke-linejoin="round"` : ''} fill="${fill ?? 'none'}"${dash ? ` stroke-dasharray="${dash.map(n).join(' ')}"` : ''}`

function base64(bytes: Uint8Array): string {
  let text = ''
  const step = 0x8000
  for (let i = 0; i < bytes.length; i += step) text += String.fromCharCode(...bytes.subarray(i, i + step))
  return btoa(text)
}

const STYLE = `
*{box-sizing:border-box}
body{margin:0;background:#fff;color:#111;font:10.5pt/1.35 "Helvetica Neue",Arial,"Liberation Sans",sans-serif;font-variant-numeric:tabular-nums}
main{max-width:180mm;margin:0 auto;padding:4mm}
header{border-top:3mm solid;border-image:repeating-linear-gradient(135deg,#111 0 4mm,#f5c400 4mm 8mm) 20;padding-top:2mm}
h1{font-size:24pt;margin:2mm 0}h2{font-size:16pt;border-bottom:.4mm solid #111;margin:8mm 0 3mm}h3{font-size:12pt;margin:5mm 0 1.5mm}
h2,h3{break-after:avoid}
p{margin:0 0 1.5mm}.answer{font-size:12.5pt;font-weight:700;margin:0 0 3mm}.answer.severe{color:#b3121d}.quiet{color:#555;font-size:9pt}
dl{margin:0 0 3mm}dl div{display:flex;gap:4mm;border-bottom:.1mm solid #bbb}dt{flex:0 0 45mm;color:#555}dd{margin:0;flex:1;overflow-wrap:anywhere}
table{border-collapse:collapse;width:100%;margin:0 0 3mm;font-size:9pt}
caption{text-align:left;font-weight:700;margin-bottom:1mm}
th,td{text-align:left;vertical-align:top;padding:.5mm 2mm .5mm 0;font-weight:400;overflow-wrap:anywhere}thead th{font-weight:700;border-bottom:.3mm solid #111}
tr{break-inside:avoid}tbody tr+tr>*{border-top:.1mm solid #bbb}.sum>*{border-top:.3mm solid #111;font-weight:700}.r{text-align:right}
.note{border-left:1.2mm solid #888;padding:1mm 0 .5mm 3mm;margin:0 0 2.5mm;break-inside:avoid}.note.severe{border:.6mm solid #b3121d;padding:1.5mm 3mm}.note.warning{border-color:#c78a00}
figure{margin:0 0 4mm;break-inside:avoid}figure svg,figure img{width:100%;height:auto;display:block}figcaption{color:#555;font-size:9pt}
.checks{list-style:none;padding:0;margin:0 0 3mm}.checks li{position:relative;padding-left:6mm;margin-bottom:1mm;break-inside:avoid}
.checks li::before{content:"";position:absolute;left:0;top:.8mm;width:3mm;height:3mm;border:.3mm solid #111}
.checks .done::before{background:linear-gradient(45deg,transparent 45%,#111 45% 55%,transparent 55%),linear-gradient(-45deg,transparent 45%,#111 45% 55%,transparent 55%)}
.checks b{color:#b3121d}
footer{margin-top:8mm;border-top:.3mm solid #111;color:#555;font-size:9pt}
@media print{main{padding:0;max-width:none}.chapter{break-before:page}a{color:inherit;text-decoration:none}}
`
