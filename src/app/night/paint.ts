// Draws the scene once: one picture, or two side by side under one exposure; and what is written over them.

import { design } from '../store/stores.ts'
import { beside } from './comparison.ts'
import { drawMarks, drawProbe, label } from './drawMarks.ts'
import type { NightGl } from './gl.ts'
import { type Glass, glassIn } from './inset.ts'
import { tintOver } from './model/colour.ts'
import { mouthRadiusM } from './model/mouth.ts'
import type { PictureSize } from './model/scene.ts'
import { airFor, exposureNow, isSplit, type Lit, litNow, sceneNow, stationNow } from './scene.ts'
import { night } from './state.ts'

/** Halves of the picture in CSS px: from the left edge, and how wide. */
export function halvesOf(size: PictureSize): { x: number; size: PictureSize }[] {
  if (!isSplit()) return [{ x: 0, size }]
  const width = Math.floor(size.width / 2)
  return [
    { x: 0, size: { ...size, width } },
    { x: size.width - width, size: { ...size, width } },
  ]
}

/** Fills the textures of a lamp whose light is not the one that was drawn last. */
export function makePainter(gl: NightGl) {
  const drawn: (Lit['sheet'] | null)[] = [null, null]

  const light = (slot: 0 | 1, of: Lit) => {
    if (drawn[slot] === of.sheet) return
    gl.light(slot, of.sheet, tintOver(of.sheet))
    drawn[slot] = of.sheet
  }

  /** On a canvas of `scale` pixels for each CSS px. */
  return (size: PictureSize, scale: number): void => {
    gl.clear()
    const lit = litNow()
    const first = lit[0]
    if (!first) return
    const { place, figure } = sceneNow()
    const exposure = exposureNow(first, place)
    for (const [i, half] of halvesOf(size).entries()) {
      const of = lit[i]
      if (!of) continue
      const slot = i === 0 ? 0 : 1
      light(slot, of)
      const frame = {
        x: Math.round(half.x * scale),
        y: 0,
        width: Math.round(half.size.width * scale),
        height: Math.round(half.size.height * scale),
      }
      const station = stationNow(place, half.size)
      const mouthM = mouthRadiusM(of.lamp)
      const picture = { slot, station, place, figure, air: airFor(of), mouthM, exposure } as const
      gl.draw({ ...picture, frame })
      const glass = glassIn(place, half.size)
      if (!glass) continue
      const side = Math.round(glass.size.width * scale)
      const corner = {
        x: Math.round((half.x + glass.x) * scale),
        y: Math.round((size.height - glass.y - glass.size.height) * scale),
      }
      gl.draw({ ...picture, station: glass.station, frame: { ...corner, width: side, height: side } })
    }
  }
}

export interface Inks {
  ink: string
  quiet: string
  font: string
}

export const inksOf = (box: HTMLElement): Inks => {
  const style = getComputedStyle(box)
  const colour = (name: string) => style.getPropertyValue(name).trim()
  return { ink: colour('--ink'), quiet: colour('--ink-quiet'), font: style.fontFamily }
}

/** Marks of each half, the seam, and whose light each half is. `ctx` is in CSS px. */
export function paintOver(ctx: CanvasRenderingContext2D, size: PictureSize, inks: Inks, withProbe: boolean): void {
  const { marks, station: name, probe } = night.getState()
  const { place } = sceneNow()
  const { target } = design.lamp()
  const halves = halvesOf(size)
  for (const half of halves) {
    ctx.save()
    ctx.beginPath()
    ctx.rect(half.x, 0, half.size.width, half.size.height)
    ctx.clip()
    ctx.translate(half.x, 0)
    const station = stationNow(place, half.size)
    if (marks) drawMarks({ ctx, size: half.size, station, name, place, target: target.name, ...inks })
    const glass = glassIn(place, half.size)
    if (glass) paintGlass(ctx, glass, inks)
    ctx.restore()
  }
  if (halves.length === 2) paintSeam(ctx, size, inks)
  if (withProbe && probe) drawProbe({ ctx, ink: inks.ink }, probe.u * size.width, probe.v * size.height)
}

function paintGlass(ctx: CanvasRenderingContext2D, { x, y, size, times }: Glass, inks: Inks): void {
  ctx.strokeStyle = inks.quiet
  ctx.lineWidth = 1
  ctx.strokeRect(x - 0.5, y - 0.5, size.width + 1, size.height + 1)
  const words = `× ${times < 10 ? times.toFixed(1) : Math.round(times)}`
  label({ ctx, font: inks.font }, words, x + size.width - 8, y + size.height - 10, 'right', inks.ink)
}

function paintSeam(ctx: CanvasRenderingContext2D, size: PictureSize, inks: Inks): void {
  const middle = size.width / 2
  ctx.strokeStyle = inks.quiet
  ctx.globalAlpha = 0.7
  ctx.lineWidth = 1
  ctx.beginPath()
  ctx.moveTo(middle, 0)
  ctx.lineTo(middle, size.height)
  ctx.stroke()
  ctx.globalAlpha = 1
  const { lit } = beside.getState()
  const names = [design.lamp().name, lit ? lit.name : '']
  for (const [i, name] of names.entries()) {
    label({ ctx, font: inks.font }, name, ((2 * i + 1) * size.width) / 4, size.height - 16, 'center', inks.ink)
  }
}
