// Over the picture: distances on the ground, the target's outline, a person for scale, the place read off.
import {
  distanceMarks,
  LAMP_HEIGHT_M,
  PERSON_M,
  type PictureSize,
  personOutline,
  pictureOf,
  type Station,
  type Triple,
} from '../measure/nightScene.ts'

export interface MarksOf {
  ctx: CanvasRenderingContext2D
  size: PictureSize
  station: Station
  target: { name: string; distanceM: number; widthM: number; heightM: number }
  ink: string
  quiet: string
  font: string
}

export function drawMarks(m: MarksOf): void {
  drawTarget(m)
  drawDistances(m)
  drawPerson(m)
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

function label(m: MarksOf, text: string, x: number, y: number, align: CanvasTextAlign, colour = m.quiet): void {
  const { ctx } = m
  ctx.font = `11.5px ${m.font}`
  ctx.textAlign = align
  ctx.textBaseline = 'middle'
  ctx.lineJoin = 'round'
  ctx.lineWidth = 3
  ctx.strokeStyle = '#05080acc'
  ctx.strokeText(text, x, y)
  ctx.fillStyle = colour
  ctx.fillText(text, x, y)
}

/** Arcs on the ground, as far as they are in sight; words stay apart. */
function drawDistances(m: MarksOf): void {
  const { ctx, size } = m
  // From far to near: where words would touch, the target's own distance stays.
  let lastY = Number.NEGATIVE_INFINITY
  for (const d of distanceMarks(m.target.distanceM).toReversed()) {
    const arc: Triple[] = []
    // The target's own mark is the foot of the wall, which is straight.
    const last = d === m.target.distanceM
    for (let deg = -40; deg <= 40; deg += 2) {
      const at = (deg * Math.PI) / 180
      arc.push([d * (last ? Math.tan(at) : Math.sin(at)), -LAMP_HEIGHT_M, last ? d : d * Math.cos(at)])
    }
    ctx.strokeStyle = m.quiet
    ctx.globalAlpha = last ? 0.55 : 0.3
    ctx.lineWidth = 1
    ctx.setLineDash(last ? [] : [2, 5])
    stroke(m, arc)
    ctx.setLineDash([])
    ctx.globalAlpha = 1
    const on = pictureOf(m.station, size, [0, -LAMP_HEIGHT_M, d])
    if (!on || on[1] > size.height - 8 || on[1] < 8 || on[1] - lastY < 15) continue
    lastY = on[1]
    label(m, metres(d), Math.min(size.width - 50, Math.max(10, leftOf(m, d))), on[1] - 7, 'left')
  }
}

/** Labels stand in a column at the left edge of the picture, or beside the arc where that is nearer. */
function leftOf(m: MarksOf, d: number): number {
  const end = pictureOf(m.station, m.size, [d * Math.sin(-0.7), -LAMP_HEIGHT_M, d * Math.cos(0.7)])
  return Math.max(10, Math.min(end ? end[0] + 6 : 10, m.size.width * 0.25))
}

export const metres = (m: number) => (m >= 10_000 ? `${m / 1000} km` : `${Math.round(m * 100) / 100} m`)

function drawTarget(m: MarksOf): void {
  const { ctx, target } = m
  const w = target.widthM / 2
  const h = target.heightM / 2
  const low = Math.max(-h, -LAMP_HEIGHT_M)
  const z = target.distanceM
  ctx.strokeStyle = m.ink
  ctx.lineWidth = 1
  ctx.globalAlpha = 0.7
  ctx.setLineDash([6, 4])
  const corners: Triple[] = [
    [-w, low, z],
    [w, low, z],
    [w, h, z],
    [-w, h, z],
  ]
  stroke(m, corners, true)
  ctx.setLineDash([])
  const mid = pictureOf(m.station, m.size, [0, 0, z])
  if (mid) {
    ctx.beginPath()
    ctx.moveTo(mid[0] - 5, mid[1])
    ctx.lineTo(mid[0] + 5, mid[1])
    ctx.moveTo(mid[0], mid[1] - 5)
    ctx.lineTo(mid[0], mid[1] + 5)
    ctx.stroke()
  }
  ctx.globalAlpha = 1
  const top = pictureOf(m.station, m.size, [-w, h, z])
  if (top) {
    const text = `${target.name}: ${metres(target.widthM)} × ${metres(target.heightM)} at ${metres(z)}`
    label(m, text, Math.max(8, top[0]), Math.max(12, top[1] - 10), 'left', m.ink)
  }
}

function drawPerson(m: MarksOf): void {
  const { ctx, target } = m
  const x = Math.min(0.3 * target.widthM, target.widthM / 2) + 0.4
  const z = target.distanceM - Math.min(0.3, 0.02 * target.distanceM)
  ctx.strokeStyle = m.ink
  ctx.globalAlpha = 0.9
  ctx.lineWidth = 1.25
  stroke(
    m,
    personOutline().map(([px, py]): Triple => [x + px, py - LAMP_HEIGHT_M, z]),
    true,
  )
  ctx.globalAlpha = 1
  const head = pictureOf(m.station, m.size, [x, PERSON_M - LAMP_HEIGHT_M, z])
  const feet = pictureOf(m.station, m.size, [x, -LAMP_HEIGHT_M, z])
  if (!head || !feet) return
  if (feet[1] - head[1] > 26) label(m, `${PERSON_M} m`, head[0], head[1] - 9, 'center')
  else label(m, `← a person, ${PERSON_M} m`, feet[0] + 6, (head[1] + feet[1]) / 2 - 1, 'left')
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
