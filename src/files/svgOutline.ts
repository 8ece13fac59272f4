// Shapes of an SVG drawing as chains of points, mm, y upwards. Paths are read by svg-pathdata (loaded when a drawing is opened).
// Reference: W3C, Scalable Vector Graphics 2: the viewport and its viewBox, transforms, arcs; 96 px an inch (CSS Values 3, § 5.2).
import type { SVGCommand } from 'svg-pathdata'
import {
  type Affine,
  bezier,
  CHORD_MM,
  compose,
  curve,
  ellipseArc,
  move,
  type Point,
  stretchOf,
} from './outlineChords.ts'
import type { Chains } from './outlineLoops.ts'

/** What an element of a parsed drawing has; the page's own parser gives them. */
export interface XmlElement {
  readonly tagName: string
  getAttribute(name: string): string | null
  readonly children: ArrayLike<XmlElement>
}

const PX_MM = 25.4 / 96
const UNIT_MM: Record<string, number> = {
  mm: 1,
  cm: 10,
  q: 0.25,
  in: 25.4,
  pt: 25.4 / 72,
  pc: 25.4 / 6,
  px: PX_MM,
  '': PX_MM,
}
/** Elements whose content is not drawn where it stands. */
const HIDDEN = new Set([
  'defs',
  'clippath',
  'mask',
  'symbol',
  'pattern',
  'marker',
  'title',
  'desc',
  'metadata',
  'style',
])
const DRAWN_NOT = new Set(['text', 'image', 'use', 'foreignobject'])
const DEEPEST = 64

export async function readSvgChains(root: XmlElement): Promise<Chains> {
  if (nameOf(root) !== 'svg') return { ok: false, why: 'No SVG drawing: its root is another element.' }
  const { SVGPathData } = await import('svg-pathdata')
  const { map, note } = viewportOf(root)
  const chains: Point[][] = []
  const skipped = new Map<string, number>()
  const draw = (element: XmlElement, outer: Affine, depth: number): void => {
    for (const child of Array.from(element.children)) {
      const name = nameOf(child)
      if (HIDDEN.has(name) || isHidden(child) || depth > DEEPEST) continue
      if (DRAWN_NOT.has(name)) {
        skipped.set(name, (skipped.get(name) ?? 0) + 1)
        continue
      }
      const own = compose(outer, transformOf(child.getAttribute('transform') ?? ''))
      const tolerance = CHORD_MM / Math.max(1e-12, stretchOf(own))
      const parts =
        name === 'path'
          ? pathChains(
              new SVGPathData(child.getAttribute('d') ?? '').toAbs().normalizeHVZ(false).normalizeST().annotateArcs()
                .commands,
              tolerance,
            )
          : basicChains(name, child, tolerance)
      for (const part of parts) chains.push(part.map((p) => move(own, p)))
      draw(child, own, depth + 1)
    }
  }
  try {
    draw(root, map, 0)
  } catch (error) {
    return { ok: false, why: `A path of the drawing can’t be read: ${error instanceof Error ? error.message : ''}` }
  }
  const notes = [note]
  if (skipped.size > 0) notes.push(`Left aside: ${[...skipped].map(([name, n]) => `${n} × ${name}`).join(', ')}.`)
  return { ok: true, chains, notes }
}

const nameOf = (e: XmlElement) => e.tagName.toLowerCase().replace(/^.*:/, '')
const isHidden = (e: XmlElement) =>
  e.getAttribute('display') === 'none' || /display\s*:\s*none/.test(e.getAttribute('style') ?? '')

function length(text: string | null): { value: number; unit: string } | null {
  const parts = /^\s*([+-]?[\d.]+(?:e[+-]?\d+)?)\s*([a-z]*)\s*$/i.exec(text ?? '')
  const value = Number(parts?.[1])
  const unit = (parts?.[2] ?? '').toLowerCase()
  return parts && Number.isFinite(value) && unit in UNIT_MM ? { value, unit } : null
}

/** User units to mm, y turned upwards. */
function viewportOf(root: XmlElement): { map: Affine; note: string } {
  const box = (root.getAttribute('viewBox') ?? '')
    .trim()
    .split(/[\s,]+/)
    .map(Number)
  const [wide, high] = [length(root.getAttribute('width')), length(root.getAttribute('height'))]
  const mm = (of: { value: number; unit: string }) => of.value * (UNIT_MM[of.unit] ?? PX_MM)
  const [, , boxWide = 0, boxHigh = 0] = box
  const hasBox = box.length === 4 && box.every(Number.isFinite) && boxWide > 0 && boxHigh > 0
  if (!hasBox || (!wide && !high)) {
    const note = 'The drawing names no size; a unit is a pixel, 96 to the inch.'
    return { map: [PX_MM, 0, 0, -PX_MM, 0, 0], note: !hasBox && wide ? PIXEL_NOTE : note }
  }
  // The lesser scale holds in both directions: "xMidYMid meet", the default.
  const scales = [wide && mm(wide) / boxWide, high && mm(high) / boxHigh].filter((s) => s !== null)
  const scale = Math.min(...scales)
  const unit = (wide ?? high)?.unit ?? ''
  const note =
    unit === '' || unit === 'px'
      ? PIXEL_NOTE
      : `Its page is given in ${unit}; a unit is ${Number(scale.toPrecision(6))} mm.`
  return { map: [scale, 0, 0, -scale, 0, 0], note }
}
const PIXEL_NOTE = 'Its page is given in pixels, 96 to the inch.'

function transformOf(text: string): Affine {
  let map: Affine = [1, 0, 0, 1, 0, 0]
  for (const [, name = '', list = ''] of text.matchAll(/([a-zA-Z]+)\s*\(([^)]*)\)/g)) {
    const v = list
      .trim()
      .split(/[\s,]+/)
      .map(Number)
    map = compose(map, stepOf(name, v))
  }
  return map
}

function stepOf(name: string, v: readonly number[]): Affine {
  const rad = ((v[0] ?? 0) * Math.PI) / 180
  switch (name) {
    case 'matrix':
      return [v[0] ?? 1, v[1] ?? 0, v[2] ?? 0, v[3] ?? 1, v[4] ?? 0, v[5] ?? 0]
    case 'translate':
      return [1, 0, 0, 1, v[0] ?? 0, v[1] ?? 0]
    case 'scale':
      return [v[0] ?? 1, 0, 0, v[1] ?? v[0] ?? 1, 0, 0]
    case 'rotate': {
      const turn: Affine = [Math.cos(rad), Math.sin(rad), -Math.sin(rad), Math.cos(rad), 0, 0]
      const [x, y] = [v[1] ?? 0, v[2] ?? 0]
      return compose(compose([1, 0, 0, 1, x, y], turn), [1, 0, 0, 1, -x, -y])
    }
    case 'skewX':
      return [1, 0, Math.tan(rad), 1, 0, 0]
    case 'skewY':
      return [1, Math.tan(rad), 0, 1, 0, 0]
    default:
      return [1, 0, 0, 1, 0, 0]
  }
}

function basicChains(name: string, e: XmlElement, tolerance: number): Point[][] {
  // Lengths with a unit count in pixels, as everywhere inside a drawing.
  const n = (key: string): number => {
    const of = length(e.getAttribute(key))
    return of ? (of.unit === '' ? of.value : (of.value * (UNIT_MM[of.unit] ?? PX_MM)) / PX_MM) : 0
  }
  switch (name) {
    case 'line':
      return [
        [
          [n('x1'), n('y1')],
          [n('x2'), n('y2')],
        ],
      ]
    case 'circle':
      return [ellipseArc([n('cx'), n('cy')], [n('r'), 0], [0, n('r')], 0, 2 * Math.PI, tolerance)]
    case 'ellipse':
      return [ellipseArc([n('cx'), n('cy')], [n('rx'), 0], [0, n('ry')], 0, 2 * Math.PI, tolerance)]
    case 'rect':
      return [roundedRect(n('x'), n('y'), n('width'), n('height'), n('rx') || n('ry'), n('ry') || n('rx'), tolerance)]
    case 'polygon':
    case 'polyline': {
      const v = (e.getAttribute('points') ?? '')
        .trim()
        .split(/[\s,]+/)
        .map(Number)
      const points = Array.from(
        { length: Math.floor(v.length / 2) },
        (_, i): Point => [v[2 * i] ?? 0, v[2 * i + 1] ?? 0],
      )
      if (points.length < 2) return []
      return [name === 'polygon' ? [...points, ...points.slice(0, 1)] : points]
    }
    default:
      return []
  }
}

function roundedRect(x: number, y: number, w: number, h: number, rx: number, ry: number, tolerance: number): Point[] {
  const [a, b] = [Math.min(rx, w / 2), Math.min(ry, h / 2)]
  const middles: Point[] = [
    [x + w - a, y + h - b],
    [x + a, y + h - b],
    [x + a, y + b],
    [x + w - a, y + b],
  ]
  const points = middles.flatMap((c, i): Point[] =>
    a > 0 && b > 0 ? ellipseArc(c, [a, 0], [0, b], (i * Math.PI) / 2, Math.PI / 2, tolerance) : [c],
  )
  return [...points, ...points.slice(0, 1)]
}

/** Absolute commands with their arcs' centres; each subpath a chain, closed ones ending where they began. */
function pathChains(commands: readonly SVGCommand[], tolerance: number): Point[][] {
  const chains: Point[][] = []
  let chain: Point[] = []
  for (const c of commands) {
    const last: Point = chain.at(-1) ?? [0, 0]
    if (c.type === 2) {
      chain = [[c.x, c.y]]
      chains.push(chain)
    } else if (c.type === 1) {
      const [first] = chain
      if (!first) continue
      chain.push(first)
      // What follows without a move begins where this subpath did.
      chain = [first]
      chains.push(chain)
    } else if (c.type === 4) chain.push([c.x, last[1]])
    else if (c.type === 8) chain.push([last[0], c.y])
    else if (c.type === 32 || c.type === 128) {
      const control: Point[] =
        c.type === 32 ? [last, [c.x1, c.y1], [c.x2, c.y2], [c.x, c.y]] : [last, [c.x1, c.y1], [c.x, c.y]]
      chain.push(...curve(bezier(control), 0, 1, tolerance).slice(1))
    } else if (c.type === 512) chain.push(...arcPoints(c, tolerance), [c.x, c.y])
    else if (c.type === 16) chain.push([c.x, c.y])
  }
  return chains.filter((points) => points.length > 1)
}

/** Between the ends of an elliptical arc. Angles in degrees, as svg-pathdata gives them. */
function arcPoints(c: Extract<SVGCommand, { type: 512 }>, tolerance: number): Point[] {
  if (c.cX === undefined || c.cY === undefined || c.phi1 === undefined || c.phi2 === undefined) return []
  const RAD = Math.PI / 180
  const [cos, sin] = [Math.cos(c.xRot * RAD), Math.sin(c.xRot * RAD)]
  const points = ellipseArc(
    [c.cX, c.cY],
    [c.rX * cos, c.rX * sin],
    [-c.rY * sin, c.rY * cos],
    c.phi1 * RAD,
    (c.phi2 - c.phi1) * RAD,
    tolerance,
  )
  return points.slice(1, -1)
}
