// The overlay: horizon, distances on the ground, the target's outline or size, the probe.

import { M_PER_FOOT, M_PER_MILE, type UnitSystem } from '../../num/unitSystem.ts'
import { shownText } from '../common/decimalMark.ts'
import { significant } from '../common/lengthText.ts'
import { KAYAK_M, PERSON_M } from './model/figures.ts'
import { knownLevel } from './model/reach.ts'
import {
  distanceMarks,
  kindByName,
  type PictureSize,
  type Place,
  pictureOf,
  type Station,
  type StationName,
  type Triple,
} from './model/scene.ts'

export interface MarksOf {
  ctx: CanvasRenderingContext2D
  size: PictureSize
  station: Station
  name: StationName
  place: Place
  target: string
  ink: string
  quiet: string
  font: string
  system: UnitSystem
  /** The enlarged target's frame, which no label touches; null: there is none. */
  inset: { x: number; y: number; size: PictureSize } | null
  /** lx in the beam at so many metres; null where no figure can be given. */
  luxAt(distanceM: number): number | null
}

export function drawMarks(m: MarksOf): void {
  drawHorizon(m)
  const placed = drawDistances(m)
  if (m.place.kind === 'wall' || m.place.kind === 'field') drawTarget(m, placed)
  else drawSize(m, placed)
}

function stroke(m: MarksOf, points: readonly Triple[], close = false): boolean {
  const { ctx } = m
  ctx.beginPath()
  let begun = false
  for (const p of points) {
    const at = pictureOf(m.station, m.size, p)
    if (!at) continue
    if (begun) ctx.lineTo(...at)
    else ctx.moveTo(...at)
    begun = true
  }
  if (!begun) return false
  if (close) ctx.closePath()
  ctx.stroke()
  return true
}

type Ink = Pick<MarksOf, 'ctx' | 'font'>

export function label(m: Ink, words: string, x: number, y: number, align: CanvasTextAlign, colour: string): void {
  const { ctx } = m
  const text = shownText(words)
  ctx.font = `11.5px ${m.font}`
  ctx.textAlign = align
  ctx.textBaseline = 'middle'
  ctx.lineJoin = 'round'
  ctx.lineWidth = 3.5
  ctx.strokeStyle = '#05080acc'
  ctx.strokeText(text, x, y)
  ctx.fillStyle = colour
  ctx.fillText(text, x, y)
}

/** The horizon at eye level, where no wall hides it. */
function drawHorizon(m: MarksOf): void {
  const { ctx, station, size } = m
  if (m.place.kind === 'wall' && m.name !== 'aside') return
  const ahead = Math.hypot(station.forward[0], station.forward[2])
  const y = size.height / 2 + (station.forward[1] / ahead / station.halfWidth) * (size.width / 2)
  if (y < 0 || y > size.height) return
  ctx.strokeStyle = m.quiet
  ctx.globalAlpha = 0.22
  ctx.lineWidth = 1
  ctx.beginPath()
  ctx.moveTo(0, Math.round(y) + 0.5)
  ctx.lineTo(size.width, Math.round(y) + 0.5)
  ctx.stroke()
  ctx.globalAlpha = 1
}

/** Arcs on the ground about the lamp, where they are in view, with labels that don't touch. */
function drawDistances(m: MarksOf): Placed[] {
  const { ctx, size, place, station } = m
  const { distanceM: d, lampM } = place
  const ground = Math.sqrt(d * d - place.centre[1] ** 2)
  const placed: Placed[] = []
  ctx.font = `11.5px ${m.font}`
  // From far to near: where labels would touch, that of the target's distance stays.
  for (const mark of distanceMarks(d, m.system === 'inch' ? M_PER_FOOT : 1).toReversed()) {
    const isTarget = mark === d
    const r = isTarget ? ground : mark
    // On a wall the mark of the target's distance is the wall's straight foot.
    const straight = isTarget && place.kind === 'wall'
    const arc: Triple[] = []
    for (let deg = -40; deg <= 40; deg += 2) {
      const at = (deg * Math.PI) / 180
      arc.push([r * (straight ? Math.tan(at) : Math.sin(at)), -lampM, straight ? r : r * Math.cos(at)])
    }
    ctx.strokeStyle = m.quiet
    ctx.globalAlpha = isTarget ? 0.5 : 0.3
    ctx.lineWidth = 1
    ctx.setLineDash(isTarget ? [] : [2, 5])
    stroke(m, arc)
    ctx.setLineDash([])
    ctx.globalAlpha = 1
    const at = m.name === 'aside' ? pictureOf(station, size, [0, -lampM, r]) : markPlace(m, r)
    if (!at || at[1] > size.height - 8 || at[1] < 10 || at[0] < 0 || at[0] > size.width - 20) continue
    const under = m.name === 'aside'
    const text = markText(m, mark, under)
    const width = ctx.measureText(text).width
    const own = { fromX: under ? at[0] - width / 2 : at[0], width, y: at[1] + (under ? 12 : -7) }
    if (placed.some((p) => touches(p, own))) continue
    placed.push(own)
    label(m, text, at[0], own.y, under ? 'center' : 'left', m.quiet)
  }
  return placed
}

/** A label's place: its left end, width and middle. */
interface Placed {
  fromX: number
  width: number
  y: number
}

const touches = (a: Placed, b: Placed): boolean =>
  Math.abs(a.y - b.y) < 15 && a.fromX < b.fromX + b.width + 10 && b.fromX < a.fromX + a.width + 10

/** So far up that it touches none of the others. */
function clearY(m: MarksOf, placed: readonly Placed[], text: string, fromX: number, y: number): number {
  m.ctx.font = `11.5px ${m.font}`
  const own = { fromX, width: m.ctx.measureText(text).width, y }
  while (own.y > 12 && placed.some((p) => touches(p, own))) own.y -= 2
  return Math.max(12, own.y)
}

/** “200 m: 118 lx, a room to read in”; from aside, where marks stand side by side, without what it is like. */
function markText({ luxAt, system }: MarksOf, distanceM: number, short: boolean): string {
  const lx = luxAt(distanceM)
  const where = metres(distanceM, system)
  if (lx === null) return where
  return `${where}: ${significant(lx, 2)} lx${short ? '' : `, ${knownLevel(lx)}`}`
}

/** Labels stand in a column at the left edge of the picture, or beside the arc where that is nearer. */
function markPlace(m: MarksOf, r: number): [number, number] | null {
  const middle = pictureOf(m.station, m.size, [0, -m.place.lampM, r])
  if (!middle) return null
  const end = pictureOf(m.station, m.size, [r * Math.sin(-0.7), -m.place.lampM, r * Math.cos(0.7)])
  return [Math.max(10, Math.min(end ? end[0] + 6 : 10, m.size.width * 0.25)), middle[1]]
}

/** 0.5 m, 12 km; 1.6 ft, 7.46 mi. */
export function metres(m: number, system: UnitSystem): string {
  if (system === 'metric') return m >= 10_000 ? `${m / 1000} km` : `${Math.round(m * 100) / 100} m`
  const feet = m / M_PER_FOOT
  if (m >= 2 * M_PER_MILE) return `${Number((m / M_PER_MILE).toPrecision(3))} mi`
  return `${feet >= 100 ? Math.round(feet) : Math.round(feet * 10) / 10} ft`
}

/** Outline of the target's rectangle on the wall or on the field, with a cross at its middle that leaves the middle itself free. */
function drawTarget(m: MarksOf, placed: readonly Placed[]): void {
  const { ctx, place } = m
  const w = place.widthM / 2
  const h = place.heightM / 2
  const [, y, z] = place.centre
  const onWall = place.kind === 'wall'
  ctx.strokeStyle = m.ink
  ctx.lineWidth = 1
  ctx.globalAlpha = 0.65
  const low = Math.max(-h, -place.lampM)
  const near = Math.max(z - h, 0.05 * z)
  const corners: Triple[] = onWall
    ? [
        [-w, low, z],
        [w, low, z],
        [w, h, z],
        [-w, h, z],
      ]
    : [
        [-w, y, near],
        [w, y, near],
        [w, y, z + h],
        [-w, y, z + h],
      ]
  if (onWall) {
    ctx.setLineDash([6, 4])
    stroke(m, corners, true)
    ctx.setLineDash([])
  }
  const mid = pictureOf(m.station, m.size, place.centre)
  if (mid) cross(m, mid[0], mid[1])
  ctx.globalAlpha = 1
  const top = corners
    .map((c) => pictureOf(m.station, m.size, c))
    .filter((c) => c !== null)
    .sort((a, b) => a[1] - b[1])[0]
  if (!top) return
  const what = kindByName(m.target) === place.kind ? m.target : onWall ? 'Wall' : 'Field'
  const text = `${what}: ${metres(place.widthM, m.system)} × ${metres(place.heightM, m.system)} at ${metres(place.distanceM, m.system)}`
  const x = Math.max(8, Math.min(Math.max(8, top[0]), m.size.width - 8 - 6 * text.length))
  label(m, text, x, clearY(m, placed, text, x, top[1] - 10), 'left', m.ink)
}

function cross({ ctx }: MarksOf, x: number, y: number): void {
  ctx.beginPath()
  for (const [dx, dy] of [
    [1, 0],
    [-1, 0],
    [0, 1],
    [0, -1],
  ] as const) {
    ctx.moveTo(x + 3 * dx, y + 3 * dy)
    ctx.lineTo(x + 7 * dx, y + 7 * dy)
  }
  ctx.stroke()
}

/** Between a label and the enlarged target, CSS px. */
const GAP = 8

/** A figure's name and size; one too small to find gets a ring. */
function drawSize(m: MarksOf, placed: readonly Placed[]): void {
  const { ctx, place, size } = m
  const person = place.kind === 'person'
  const [, , z] = place.centre
  const foot = pictureOf(m.station, size, [0, -place.lampM, z])
  const head = pictureOf(m.station, size, [0, (person ? PERSON_M : 1.2) - place.lampM, z])
  if (!foot || !head) return
  const tall = Math.abs(foot[1] - head[1])
  const what = person ? `Person, ${metres(PERSON_M, m.system)} tall` : `Kayak, ${metres(KAYAK_M, m.system)} long`
  const text = `${what}, at ${metres(place.distanceM, m.system)}`
  const y = (foot[1] + head[1]) / 2
  const x = Math.min(size.width - 8 - 3.1 * text.length, Math.max(8 + 3.1 * text.length, head[0]))
  const tell = (y: number, below: number) => {
    const at = clearY(m, placed, text, x - 3.1 * text.length, y)
    const half = ctx.measureText(text).width / 2
    const { inset } = m
    if (!inset || x + half < inset.x - GAP || at > inset.y + inset.size.height + GAP)
      return label(m, text, x, at, 'center', m.ink)
    const beside = inset.x - GAP - half
    if (beside - half >= GAP) label(m, text, beside, at, 'center', m.ink)
    else label(m, text, x, below, 'center', m.ink)
  }
  if (tall > 60) {
    tell(head[1] - (person ? 14 : 26), foot[1] + 14)
    return
  }
  const r = Math.max(14, (person ? 0.9 : 2.2) * tall)
  ctx.strokeStyle = m.ink
  ctx.globalAlpha = 0.55
  ctx.lineWidth = 1
  ctx.setLineDash([3, 4])
  ctx.beginPath()
  ctx.arc(head[0], y, r, 0, 2 * Math.PI)
  ctx.stroke()
  ctx.setLineDash([])
  ctx.globalAlpha = 1
  tell(y - r - 10, y + r + 12)
}

export function drawProbe(m: Pick<MarksOf, 'ctx' | 'ink'>, x: number, y: number): void {
  const { ctx } = m
  for (const [width, colour] of [
    [3, '#05080a'],
    [1.25, m.ink],
  ] as const) {
    ctx.strokeStyle = colour
    ctx.lineWidth = width
    ctx.beginPath()
    ctx.arc(x, y, 7, 0, 2 * Math.PI)
    for (const [dx, dy] of [
      [1, 0],
      [-1, 0],
      [0, 1],
      [0, -1],
    ] as const) {
      ctx.moveTo(x + 7 * dx, y + 7 * dy)
      ctx.lineTo(x + 12 * dx, y + 12 * dy)
    }
    ctx.stroke()
  }
}
