// Heat as thin strips along the parts, and the hot spots as hatched marks with labels.

import type { Severity } from '../../checks/finding.ts'
import type { Sheet } from '../../job/beam/sheet.ts'
import { axesOf, type Cut, faceHalf } from '../common/cut.ts'
import { PLATE_MM, passedLastMm } from '../common/extent.ts'
import type { Point } from '../common/lensProfile.ts'
import { boxOf } from '../common/piece.ts'
import { rampOn } from '../common/ramp.ts'
import { wallPlaces } from '../common/unrolledWall.ts'
import { flatStrip, heatTop, type Strip, wallStrips } from './model/heat.ts'
import { placeCallouts } from './model/sizes.ts'
import { beyondText, SPOTS, type SpotName, spotText } from './model/words.ts'
import { hatchInside, line, type Pen, widthOf, words } from './pen.ts'

const STRIP_PX = 6
const OFF_PX = 4

export interface HeatStrips {
  lens: Strip | null
  face: Strip
  wall: { above: Strip; below: Strip } | null
  top: number
}

const known = new WeakMap<Sheet, Map<Cut, HeatStrips>>()

/** Cached for each sheet: the drawing and its scale need the same strips. */
export function heatOf(sheet: Sheet, cut: Cut): HeatStrips {
  const cuts = known.get(sheet) ?? new Map<Cut, HeatStrips>()
  known.set(sheet, cuts)
  const strips = cuts.get(cut) ?? stripsOf(sheet, cut)
  cuts.set(cut, strips)
  return strips
}

function stripsOf(sheet: Sheet, cut: Cut): HeatStrips {
  const lens = sheet.lensMap && flatStrip(sheet.lensMap, cut)
  const face = flatStrip(sheet.faceMap, cut)
  const wall = sheet.wallMap && wallStrips(sheet.wallMap, cut)
  return { lens, face, wall, top: heatTop([lens, face, wall?.above ?? null, wall?.below ?? null]) }
}

export function drawHeat(pen: Pen, heat: HeatStrips, stale: boolean): void {
  const { ctx, lamp } = pen
  ctx.save()
  ctx.globalAlpha = stale ? 0.35 : 1
  if (heat.lens && lamp.lens) {
    const { from, to } = boxOf(lamp.lens)
    const { r } = axesOf(pen.cut)
    upright(pen, heat.lens, heat.top, pen.x(to[2]) + OFF_PX + 2, from[r], to[r])
  }
  const faceX = pen.x(-PLATE_MM) - OFF_PX - STRIP_PX
  const half = faceHalf(lamp.face, pen.cut)
  upright(pen, heat.face, heat.top, faceX, -half, half)
  const t = lamp.tunnel
  if (heat.wall && t) {
    for (const side of [1, -1] as const) {
      const strip = side === 1 ? heat.wall.above : heat.wall.below
      along(pen, strip, heat.top, wallPlaces(t, pen.cut, side), -side * (OFF_PX + STRIP_PX / 2))
    }
  }
  ctx.restore()
}

/** A strip across the axis, clipped to the part. */
function upright(pen: Pen, strip: Strip, top: number, xPx: number, fromMm: number, toMm: number): void {
  const step = (strip.toMm - strip.fromMm) / strip.kWm2.length
  for (const [i, v] of strip.kWm2.entries()) {
    const from = Math.max(fromMm, strip.fromMm + i * step)
    const to = Math.min(toMm, strip.fromMm + (i + 1) * step)
    if (to <= from) continue
    pen.ctx.fillStyle = rampOn(pen.paint.theme, v / top)
    pen.ctx.fillRect(xPx, pen.y(to), STRIP_PX, pen.y(from) - pen.y(to) + 0.6)
  }
}

/** Along the wall rolled out: each value over its own share of the length, steps included. */
function along(pen: Pen, strip: Strip, top: number, place: (share: number) => Point, offPx: number): void {
  const { ctx } = pen
  const count = strip.kWm2.length
  ctx.lineWidth = STRIP_PX
  for (const [i, v] of strip.kWm2.entries()) {
    const [fromZ, fromR] = place(i / count)
    const [toZ, toR] = place((i + 1) / count)
    ctx.strokeStyle = rampOn(pen.paint.theme, v / top)
    line(ctx, pen.x(fromZ), pen.y(fromR) + offPx, pen.x(toZ) + 0.6, pen.y(toR) + offPx)
  }
}

/** Rows of callouts above the lamp. */
export const CALLOUT_ROWS = 3
const CALLOUT_TOP_PX = 16
/** On a phone the longest label needs a row of its own; it may lie over the drawing. */
const NARROW_PX = 600
export const CALLOUT_STEP_PX = 21

export function drawSpots(pen: Pen, sheet: Sheet, stale: boolean): void {
  const { ctx, size, paint } = pen
  const { r } = axesOf(pen.cut)
  const all = SPOTS.flatMap((name) => {
    const spot = sheet.hotSpots[name]
    const others = name === 'lens' ? (sheet.elements ?? []) : []
    return [
      ...(spot ? [{ name, spot, label: sheet.mapped?.name }] : []),
      ...others.flatMap((e) => (e.spot ? [{ name, spot: e.spot, label: e.name }] : [])),
    ]
  })
  const found = all.map(({ name, spot, label }) => {
    const x = pen.x(spot.zMm)
    const y = pen.y(r === 0 ? spot.xMm : spot.yMm)
    const off = x < 0 || x > size.width || y < 0 || y > size.height
    const text =
      spotText(name, spot, label) +
      (name === 'front' ? `, ${beyondText(spot, passedLastMm(pen.lamp), pen.system)}` : '')
    const beyond = x > size.width ? ' →' : x < 0 ? '← ' : ''
    const shown = beyond === ' →' ? text + beyond : beyond + text
    const colour = paint[severityOf(sheet, name)]
    return { spot, x, y, off, text: shown, colour, widthPx: widthOf(pen, shown) + 22 }
  })
  const places = placeCallouts(
    found.map((f) => ({ xPx: f.x, widthPx: f.widthPx })),
    8,
    size.width - 8,
    size.width < NARROW_PX ? CALLOUT_ROWS + 1 : CALLOUT_ROWS,
  )
  ctx.save()
  ctx.globalAlpha = stale ? 0.55 : 1
  for (const [i, f] of found.entries()) {
    const at = places[i]!
    const yBox = CALLOUT_TOP_PX + at.row * CALLOUT_STEP_PX
    const xFrom = Math.min(at.leftPx + f.widthPx - 6, Math.max(at.leftPx + 6, f.x))
    ctx.strokeStyle = f.colour
    ctx.lineWidth = 1
    if (!f.off) {
      line(ctx, xFrom, yBox + 9, f.x, f.y)
      mark(pen, f.x, f.y, Math.max(6, (f.spot.discMm / 2) * pen.camera.pxPerMm), f.colour)
    }
  }
  for (const [i, f] of found.entries()) {
    const at = places[i]!
    const yBox = CALLOUT_TOP_PX + at.row * CALLOUT_STEP_PX
    ctx.beginPath()
    ctx.rect(at.leftPx, yBox - 9, f.widthPx, 18)
    ctx.fillStyle = paint.sheet
    ctx.fill()
    ctx.strokeStyle = f.colour
    ctx.lineWidth = 1
    ctx.stroke()
    ctx.beginPath()
    ctx.rect(at.leftPx, yBox - 9, 10, 18)
    const head = { fromX: at.leftPx, fromY: yBox - 9, toX: at.leftPx + 10, toY: yBox + 9 }
    hatchInside(pen, f.colour, 5, 1, 1.5, head)
    words(pen, f.text, at.leftPx + 16, yBox + 0.5, { align: 'left', colour: paint.ink })
  }
  ctx.restore()
}

function mark(pen: Pen, xPx: number, yPx: number, radiusPx: number, colour: string): void {
  const { ctx } = pen
  ctx.beginPath()
  ctx.arc(xPx, yPx, radiusPx, 0, 2 * Math.PI)
  const about = { fromX: xPx - radiusPx, fromY: yPx - radiusPx, toX: xPx + radiusPx, toY: yPx + radiusPx }
  hatchInside(pen, colour, 4, 1, 1.25, about)
  ctx.beginPath()
  ctx.arc(xPx, yPx, radiusPx, 0, 2 * Math.PI)
  ctx.strokeStyle = colour
  ctx.lineWidth = 1.5
  ctx.stroke()
}

/** Severity of the worst finding at that place. */
function severityOf(sheet: Sheet, name: SpotName): Severity {
  const on = name === 'sunInside' ? 'inside' : name
  const grades = sheet.findings.filter((f) => f.place.kind === 'point' && f.place.on === on).map((f) => f.severity)
  return grades.includes('severe') ? 'severe' : grades.includes('warning') ? 'warning' : 'note'
}
