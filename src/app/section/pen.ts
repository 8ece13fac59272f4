// The argument of every drawing function of the section.

import type { Lamp } from '../../lamp/schema.ts'
import type { Cut } from '../common/cut.ts'
import { shownText } from '../common/decimalMark.ts'
import type { Point } from '../common/lensProfile.ts'
import { textScale } from '../common/textScale.ts'
import type { UnitSystem } from '../common/unitSystem.ts'
import { type Camera, type SizePx, xOfZ, yOfR } from './model/frame.ts'

const TOKENS = [
  'ground',
  'sheet',
  'raised',
  'rule',
  'rule-strong',
  'ink',
  'ink-quiet',
  'ink-faint',
  'light',
  'steel',
  'severe',
  'warning',
  'note',
] as const
export type Paint = Record<(typeof TOKENS)[number], string> & {
  font: string
  textScale: number
  theme: 'dark' | 'light'
}

/** The theme's colours. Reading them forces a style recalculation, so not in every frame. */
export function readPaint(element: Element): Paint {
  const style = getComputedStyle(element)
  const tokens = Object.fromEntries(TOKENS.map((t) => [t, style.getPropertyValue(`--${t}`).trim()]))
  return {
    ...(tokens as Record<(typeof TOKENS)[number], string>),
    font: style.fontFamily,
    textScale: textScale(),
    theme: style.colorScheme === 'light' ? 'light' : 'dark',
  }
}

export interface Pen {
  ctx: CanvasRenderingContext2D
  camera: Camera
  size: SizePx
  paint: Paint
  lamp: Lamp
  cut: Cut
  /** The builder's units. */
  system: UnitSystem
  x(zMm: number): number
  y(rMm: number): number
}

export function createPen(
  ctx: CanvasRenderingContext2D,
  camera: Camera,
  size: SizePx,
  paint: Paint,
  lamp: Lamp,
  cut: Cut,
  system: UnitSystem,
): Pen {
  return {
    ctx,
    camera,
    size,
    paint,
    lamp,
    cut,
    system,
    x: (z) => xOfZ(camera, size, z),
    y: (r) => yOfR(camera, size, r),
  }
}

/** A path through points of the lamp's frame. */
export function trace(pen: Pen, points: readonly Point[], close = false): void {
  const { ctx } = pen
  ctx.beginPath()
  for (const [i, [z, r]] of points.entries()) {
    if (i === 0) ctx.moveTo(pen.x(z), pen.y(r))
    else ctx.lineTo(pen.x(z), pen.y(r))
  }
  if (close) ctx.closePath()
}

export function line(ctx: CanvasRenderingContext2D, x1: number, y1: number, x2: number, y2: number): void {
  ctx.beginPath()
  ctx.moveTo(x1, y1)
  ctx.lineTo(x2, y2)
  ctx.stroke()
}

export interface Box {
  fromX: number
  fromY: number
  toX: number
  toY: number
}

/** Hatches the current path: metal in section, or a hazard. `about` bounds the path, so that no line is drawn outside it. */
export function hatchInside(pen: Pen, colour: string, stepPx: number, lean: 1 | -1, widthPx = 1, about?: Box): void {
  const { ctx, size } = pen
  const { fromX, fromY, toX, toY } = about ?? { fromX: 0, fromY: 0, toX: size.width, toY: size.height }
  // Lines are anchored to the canvas's edge, so that they don't depend on the box.
  const first = lean === 1 ? fromX + fromY - size.height : fromX - toY
  const last = lean === 1 ? toX + toY - size.height : toX - fromY
  const startOf = (n: number) => n * stepPx - size.height
  ctx.save()
  ctx.clip()
  ctx.strokeStyle = colour
  ctx.lineWidth = widthPx
  ctx.beginPath()
  for (let n = Math.floor((first - widthPx * 2 + size.height) / stepPx); startOf(n) < last + widthPx * 2; n++) {
    const at = startOf(n)
    ctx.moveTo(at, lean === 1 ? size.height : 0)
    ctx.lineTo(at + size.height, lean === 1 ? 0 : size.height)
  }
  ctx.stroke()
  ctx.restore()
}

export function words(
  pen: Pen,
  text: string,
  xPx: number,
  yPx: number,
  options: { colour?: string; align?: CanvasTextAlign; turn?: number; px?: number; weight?: number } = {},
): void {
  const { ctx, paint } = pen
  ctx.save()
  ctx.font = `${options.weight ?? 400} ${(options.px ?? 11.5) * paint.textScale}px ${paint.font}`
  ctx.textAlign = options.align ?? 'center'
  ctx.textBaseline = 'middle'
  ctx.translate(xPx, yPx)
  if (options.turn) ctx.rotate(options.turn)
  // A halo in the background colour keeps the text legible over lines.
  ctx.lineJoin = 'round'
  ctx.lineWidth = 4
  ctx.strokeStyle = paint.sheet
  const shown = shownText(text)
  ctx.strokeText(shown, 0, 0)
  ctx.fillStyle = options.colour ?? paint['ink-quiet']
  ctx.fillText(shown, 0, 0)
  ctx.restore()
}

export function widthOf(pen: Pen, text: string, px = 11.5): number {
  pen.ctx.font = `400 ${px * pen.paint.textScale}px ${pen.paint.font}`
  return pen.ctx.measureText(shownText(text)).width
}
