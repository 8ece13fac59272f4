// A drawing as SVG 1.1: width and height in mm and a view box in mm, so that it opens at true size; one group for each layer, by its name.

import { arcOf, stretchesOf } from '../drawing/path.ts'
import { type Drawing, type Item, LAYERS, type Layer, type Path } from '../drawing/types.ts'
import { printable } from '../lamp/printable.ts'

/** Lines by layer: colour, width in mm, dashes in mm. Cut lines are the strongest, as drawings have it. */
export const LINES: Record<Layer, { colour: string; widthMm: number; dashMm?: readonly number[] }> = {
  outline: { colour: '#000000', widthMm: 0.35 },
  hole: { colour: '#000000', widthMm: 0.35 },
  slot: { colour: '#000000', widthMm: 0.35 },
  bend: { colour: '#1c4fa8', widthMm: 0.25, dashMm: [6, 2] },
  glue: { colour: '#1f7a3d', widthMm: 0.25, dashMm: [3, 1.5] },
  mark: { colour: '#8a5a00', widthMm: 0.18 },
  dimension: { colour: '#555555', widthMm: 0.18 },
  text: { colour: '#000000', widthMm: 0.18 },
  frame: { colour: '#555555', widthMm: 0.25 },
}

/** A capital’s height over the font size, of the plain fonts that are asked for (Helvetica and its like: 0.72, from memory). */
export const CAPITAL = 0.72

/** Text of an SVG document. The drawing’s box is the page; y runs downwards as SVG has it. */
export function drawingSvg({ items, box, title }: Drawing): string {
  const [width, height] = [box.toX - box.fromX, box.toY - box.fromY]
  const at = (x: number, y: number): string => `${num(x - box.fromX)} ${num(box.toY - y)}`
  const groups = LAYERS.map((layer) => {
    const own = items.filter((i) => i.layer === layer)
    if (own.length === 0) return ''
    const { colour, widthMm, dashMm } = LINES[layer]
    const dash = dashMm ? ` stroke-dasharray="${dashMm.join(' ')}"` : ''
    return `<g id="${layer}" fill="none" stroke="${colour}" stroke-width="${widthMm}"${dash}>\n${own.map((i) => itemSvg(i, at, colour)).join('\n')}\n</g>`
  })
  return [
    '<?xml version="1.0" encoding="UTF-8"?>',
    `<svg xmlns="http://www.w3.org/2000/svg" width="${num(width)}mm" height="${num(height)}mm" viewBox="0 0 ${num(width)} ${num(height)}" font-family="Helvetica, Arial, sans-serif">`,
    `<title>${escaped(title)}</title>`,
    ...groups.filter((g) => g !== ''),
    '</svg>',
    '',
  ].join('\n')
}

type At = (x: number, y: number) => string

function itemSvg(item: Item, at: At, colour: string): string {
  if (item.kind === 'path') return `<path d="${pathData(item, at)}"/>`
  if (item.kind === 'circle') {
    const [x, y] = at(item.x, item.y).split(' ')
    return `<circle cx="${x}" cy="${y}" r="${num(item.radiusMm)}"/>`
  }
  const [x, y] = at(item.x, item.y).split(' ')
  const anchor = item.align === 'middle' ? ' text-anchor="middle"' : item.align === 'right' ? ' text-anchor="end"' : ''
  const turn = item.turnDeg === 0 ? '' : ` transform="rotate(${num(-item.turnDeg)} ${x} ${y})"`
  return `<text x="${x}" y="${y}" font-size="${num(item.heightMm / CAPITAL)}"${anchor}${turn} fill="${colour}" stroke="none">${escaped(item.text)}</text>`
}

/** y downwards, as SVG has it. */
const flipped: At = (x, y) => `${num(x)} ${num(-y)}`

/** The data of an SVG path, mm. `at`: a place of the drawing in the document's own coordinates, y down. */
export function pathData(path: Path, at: At = flipped): string {
  const [first] = path.vertices
  if (!first) return ''
  const parts = stretchesOf(path).map(([a, b]) => {
    const arc = arcOf(a, b)
    if (!arc) return `L${at(b.x, b.y)}`
    // Anticlockwise with y up is the sweep flag 0 with y down.
    const flags = `${Math.abs(arc.sweepRad) > Math.PI ? 1 : 0} ${arc.sweepRad > 0 ? 0 : 1}`
    return `A${num(arc.radiusMm)} ${num(arc.radiusMm)} 0 ${flags} ${at(b.x, b.y)}`
  })
  return `M${at(first.x, first.y)}${parts.join('')}${path.closed ? 'Z' : ''}`
}

/** To a millionth of a millimetre: arcs of long radius bend by their last digits. */
function num(x: number): string {
  const text = x.toFixed(6).replace(/\.?0+$/, '')
  return text === '-0' || text === '' ? '0' : text
}

const escaped = (text: string): string =>
  printable(text).replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;').replaceAll('"', '&quot;')
