// Draws the scene once: one picture, or several side by side at one exposure, with their overlay.

import { design } from '../store/stores.ts'
import { unitSystem } from '../store/unitSystem.ts'
import { drawMarks, drawProbe, label } from './drawMarks.ts'
import type { NightGl, NightPicture } from './gl.ts'
import { type Inset, insetFor } from './inset.ts'
import { tintOver } from './model/colour.ts'
import { mouthRadiusM } from './model/mouth.ts'
import { luxInBeam } from './model/reach.ts'
import type { PictureSize } from './model/scene.ts'
import {
  airFor,
  type Cell,
  currentExposure,
  currentScene,
  currentStation,
  type PaintedScene,
  type SceneLight,
} from './scene.ts'
import { night } from './state.ts'

/** Enlarged targets drawn finer than the picture that they are in, one for each picture. */
export type FineInsets = (HTMLCanvasElement | null)[]

/** Uploads a lamp's textures only when its light has changed. */
export function makePainter(gl: NightGl, scene: PaintedScene) {
  const drawn: (SceneLight['sheet'] | null)[] = []

  const light = (slot: number, of: SceneLight) => {
    if (drawn[slot] === of.sheet) return
    gl.light(slot, of.sheet, tintOver(of.sheet))
    drawn[slot] = of.sheet
  }

  const eachCell = (
    size: PictureSize,
    draw: (cell: Cell, picture: Omit<NightPicture, 'frame' | 'station'>, i: number) => void,
  ) => {
    gl.clear()
    const lit = scene.lights()
    const first = lit.find((l) => l !== null)
    if (!first) return
    const { place, figure } = currentScene()
    const exposure = currentExposure(first, place)
    for (const [slot, cell] of scene.cells(size).entries()) {
      const of = lit[slot]
      if (!of) continue
      light(slot, of)
      draw(cell, { slot, place, figure, air: airFor(of), mouthM: mouthRadiusM(of.lamp), exposure }, slot)
    }
  }

  /** `scale`: canvas pixels for each CSS px. */
  const whole = (size: PictureSize, scale: number): void =>
    eachCell(size, (cell, picture) => {
      const { place } = picture
      const fieldDeg = scene.fieldDeg()
      const frame = {
        x: Math.round(cell.x * scale),
        y: Math.round((size.height - cell.y - cell.size.height) * scale),
        width: Math.round(cell.size.width * scale),
        height: Math.round(cell.size.height * scale),
      }
      gl.draw({ ...picture, station: currentStation(place, cell.size, fieldDeg), frame })
      const inset = insetFor(place, cell.size, fieldDeg)
      if (!inset) return
      const side = Math.round(inset.size.width * scale)
      const corner = {
        x: Math.round((cell.x + inset.x) * scale),
        y: Math.round((size.height - cell.y - inset.y - inset.size.height) * scale),
      }
      gl.draw({ ...picture, station: inset.station, frame: { ...corner, width: side, height: side } })
    })

  /** The insets alone, each in the canvas's lower left corner and copied from there. The canvas has to be as large as an inset. */
  const insets = (canvas: HTMLCanvasElement, size: PictureSize, scale: number): FineInsets => {
    const fine: FineInsets = []
    eachCell(size, (cell, picture, i) => {
      const inset = insetFor(picture.place, cell.size, scene.fieldDeg())
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

/** Marks of each picture, the lines between them, and each one's name. `ctx` is in CSS px. */
export function paintOver(
  ctx: CanvasRenderingContext2D,
  size: PictureSize,
  palette: Palette,
  { scene, withProbe, fine = [] }: { scene: PaintedScene; withProbe: boolean; fine?: FineInsets },
): void {
  const { marks, station: name, probe } = night.getState()
  const { place } = currentScene()
  const { target } = design.lamp()
  const fieldDeg = scene.fieldDeg()
  const cells = scene.cells(size)
  const lit = scene.lights()
  for (const [i, cell] of cells.entries()) {
    ctx.save()
    ctx.beginPath()
    ctx.rect(cell.x, cell.y, cell.size.width, cell.size.height)
    ctx.clip()
    ctx.translate(cell.x, cell.y)
    const station = currentStation(place, cell.size, fieldDeg)
    const inset = insetFor(place, cell.size, fieldDeg)
    if (marks) {
      const of = { size: cell.size, station, name, place, inset, luxAt: luxOf(lit[i] ?? null) }
      drawMarks({ ctx, ...of, target: target.name, system: unitSystem(), ...palette })
    }
    if (inset) paintInset(ctx, inset, palette, fine[i] ?? null)
    ctx.restore()
  }
  paintSeams(ctx, cells, palette)
  for (const [i, words] of scene.names().entries()) {
    const cell = cells[i]
    if (cell) label({ ctx, font: palette.font }, words, ...foot(cell), 'center', palette.ink)
  }
  if (withProbe && probe) for (const [x, y] of scene.probes(size, probe)) drawProbe({ ctx, ink: palette.ink }, x, y)
}

const foot = ({ x, y, size }: Cell): [number, number] => [x + size.width / 2, y + size.height - 16]

/** In the beam, square to it. Nearer than the inverse-square law holds there is no figure; at the target it is the sheet's own. */
function luxOf(of: SceneLight | null): (distanceM: number) => number | null {
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

/** Along the left and upper edges of every picture that has a neighbour there. */
function paintSeams(ctx: CanvasRenderingContext2D, cells: readonly Cell[], palette: Palette): void {
  ctx.strokeStyle = palette.quiet
  ctx.globalAlpha = 0.7
  ctx.lineWidth = 1
  ctx.beginPath()
  for (const { x, y, size } of cells) {
    if (x > 0) {
      ctx.moveTo(x, y)
      ctx.lineTo(x, y + size.height)
    }
    if (y > 0) {
      ctx.moveTo(x, y)
      ctx.lineTo(x + size.width, y)
    }
  }
  ctx.stroke()
  ctx.globalAlpha = 1
}
