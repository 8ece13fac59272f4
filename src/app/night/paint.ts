// Draws the scene once: one picture, or two side by side at one exposure, with their overlay.

import { design } from '../store/stores.ts'
import { unitSystem } from '../store/unitSystem.ts'
import { comparison } from './comparison.ts'
import { drawMarks, drawProbe, label } from './drawMarks.ts'
import type { NightGl, NightPicture } from './gl.ts'
import { type Inset, insetFor } from './inset.ts'
import { tintOver } from './model/colour.ts'
import { mouthRadiusM } from './model/mouth.ts'
import { luxInBeam } from './model/reach.ts'
import type { PictureSize } from './model/scene.ts'
import {
  airFor,
  currentExposure,
  currentLights,
  currentScene,
  currentStation,
  isSplit,
  type SceneLight,
} from './scene.ts'
import { night } from './state.ts'

/** Halves of the picture in CSS px: left edge and size. `alone`: the open lamp, whatever it is compared with. */
export function halvesOf(size: PictureSize, alone = false): { x: number; size: PictureSize }[] {
  if (alone || !isSplit()) return [{ x: 0, size }]
  const width = Math.floor(size.width / 2)
  return [
    { x: 0, size: { ...size, width } },
    { x: size.width - width, size: { ...size, width } },
  ]
}

/** Enlarged targets drawn finer than the picture that they are in, one for each half. */
export type FineInsets = (HTMLCanvasElement | null)[]

/** Uploads a lamp's textures only when its light has changed. */
export function makePainter(gl: NightGl) {
  const drawn: (SceneLight['sheet'] | null)[] = [null, null]

  const light = (slot: 0 | 1, of: SceneLight) => {
    if (drawn[slot] === of.sheet) return
    gl.light(slot, of.sheet, tintOver(of.sheet))
    drawn[slot] = of.sheet
  }

  const eachHalf = (
    size: PictureSize,
    alone: boolean,
    draw: (
      half: ReturnType<typeof halvesOf>[number],
      picture: Omit<NightPicture, 'frame' | 'station'>,
      i: number,
    ) => void,
  ) => {
    gl.clear()
    const lit = currentLights()
    const first = lit[0]
    if (!first) return
    const { place, figure } = currentScene()
    const exposure = currentExposure(first, place)
    for (const [i, half] of halvesOf(size, alone).entries()) {
      const of = lit[i]
      if (!of) continue
      const slot = i === 0 ? 0 : 1
      light(slot, of)
      draw(half, { slot, place, figure, air: airFor(of), mouthM: mouthRadiusM(of.lamp), exposure }, i)
    }
  }

  /** `scale`: canvas pixels for each CSS px. */
  const whole = (size: PictureSize, scale: number, alone = false): void =>
    eachHalf(size, alone, (half, picture) => {
      const { place } = picture
      const frame = {
        x: Math.round(half.x * scale),
        y: 0,
        width: Math.round(half.size.width * scale),
        height: Math.round(half.size.height * scale),
      }
      gl.draw({ ...picture, station: currentStation(place, half.size), frame })
      const inset = insetFor(place, half.size)
      if (!inset) return
      const side = Math.round(inset.size.width * scale)
      const corner = {
        x: Math.round((half.x + inset.x) * scale),
        y: Math.round((size.height - inset.y - inset.size.height) * scale),
      }
      gl.draw({ ...picture, station: inset.station, frame: { ...corner, width: side, height: side } })
    })

  /** The insets alone, each in the canvas's lower left corner and copied from there. The canvas has to be as large as an inset. */
  const insets = (canvas: HTMLCanvasElement, size: PictureSize, scale: number): FineInsets => {
    const fine: FineInsets = []
    eachHalf(size, false, (half, picture, i) => {
      const inset = insetFor(picture.place, half.size)
      const copy = document.createElement('canvas')
      const side = Math.round((inset?.size.width ?? 0) * scale)
      copy.width = copy.height = side
      if (inset) {
        gl.draw({ ...picture, station: inset.station, frame: { x: 0, y: 0, width: side, height: side } })
        copy.getContext('2d')?.drawImage(canvas, 0, canvas.height - side, side, side, 0, 0, side, side)
      }
      fine[i] = inset ? copy : null
    })
    return fine
  }
  return { whole, insets }
}

export interface Palette {
  ink: string
  quiet: string
  font: string
}

export const readPalette = (box: HTMLElement): Palette => {
  const style = getComputedStyle(box)
  const colour = (name: string) => style.getPropertyValue(name).trim()
  return { ink: colour('--ink'), quiet: colour('--ink-quiet'), font: style.fontFamily }
}

/** Marks of each half, the dividing line, and each half's name. `ctx` is in CSS px. */
export function paintOver(
  ctx: CanvasRenderingContext2D,
  size: PictureSize,
  palette: Palette,
  { withProbe, alone = false, fine = [] }: { withProbe: boolean; alone?: boolean; fine?: FineInsets },
): void {
  const { marks, station: name, probe } = night.getState()
  const { place } = currentScene()
  const { target } = design.lamp()
  const halves = halvesOf(size, alone)
  const lit = currentLights()
  for (const [i, half] of halves.entries()) {
    ctx.save()
    ctx.beginPath()
    ctx.rect(half.x, 0, half.size.width, half.size.height)
    ctx.clip()
    ctx.translate(half.x, 0)
    const station = currentStation(place, half.size)
    if (marks) {
      const luxAt = luxOf(lit[i])
      const scene = { size: half.size, station, name, place, luxAt }
      drawMarks({ ctx, ...scene, target: target.name, system: unitSystem(), ...palette })
    }
    const inset = insetFor(place, half.size)
    if (inset) paintInset(ctx, inset, palette, fine[i] ?? null)
    ctx.restore()
  }
  if (halves.length === 2) paintSeam(ctx, size, palette)
  if (withProbe && probe) drawProbe({ ctx, ink: palette.ink }, probe.u * size.width, probe.v * size.height)
}

/** In the beam, square to it. Nearer than the inverse-square law holds there is no figure; at the target it is the sheet's own. */
function luxOf(of: SceneLight | undefined): (distanceM: number) => number | null {
  if (!of) return () => null
  const { inverseSquareFromM, targetCentreLx, axialIntensityCd } = of.sheet.figures
  const { perM } = airFor(of)
  return (d) => {
    if (d === of.lamp.target.distanceM && targetCentreLx) return targetCentreLx.value * Math.exp(-perM * d)
    return d < (inverseSquareFromM?.value ?? Number.POSITIVE_INFINITY)
      ? null
      : luxInBeam(axialIntensityCd?.value ?? 0, perM, d)
  }
}

function paintInset(
  ctx: CanvasRenderingContext2D,
  { x, y, size, times }: Inset,
  palette: Palette,
  fine: HTMLCanvasElement | null,
): void {
  if (fine) ctx.drawImage(fine, x, y, size.width, size.height)
  ctx.strokeStyle = palette.quiet
  ctx.lineWidth = 1
  ctx.strokeRect(x - 0.5, y - 0.5, size.width + 1, size.height + 1)
  const words = `× ${times < 10 ? times.toFixed(1) : Math.round(times)}`
  label({ ctx, font: palette.font }, words, x + size.width - 8, y + size.height - 10, 'right', palette.ink)
}

function paintSeam(ctx: CanvasRenderingContext2D, size: PictureSize, palette: Palette): void {
  const middle = size.width / 2
  ctx.strokeStyle = palette.quiet
  ctx.globalAlpha = 0.7
  ctx.lineWidth = 1
  ctx.beginPath()
  ctx.moveTo(middle, 0)
  ctx.lineTo(middle, size.height)
  ctx.stroke()
  ctx.globalAlpha = 1
  const { lit } = comparison.getState()
  const names = [design.lamp().name, lit ? lit.name : '']
  for (const [i, name] of names.entries()) {
    label({ ctx, font: palette.font }, name, ((2 * i + 1) * size.width) / 4, size.height - 16, 'center', palette.ink)
  }
}
