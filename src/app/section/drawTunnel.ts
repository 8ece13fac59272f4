// The tunnel in section: every stretch with its steps, the rims behind the plane, the sizes at its joints.

import { lengthWords } from '../../report/faceText.ts'
import { alongOf, tunnelHalf, wallLine } from '../common/cut.ts'
import { lengthText } from '../common/lengthText.ts'
import { hasStep, jointSizes } from '../common/stretchEdits.ts'
import { line, type Pen, trace, words } from './pen.ts'

/** More joints are a curve: neither their rims nor their sizes are drawn. */
const MOST_JOINTS = 8

export function drawTunnel(pen: Pen): void {
  const { ctx, paint, lamp } = pen
  const t = lamp.tunnel
  if (!t) return
  const walls = [wallLine(t, pen.cut, 1), wallLine(t, pen.cut, -1)] as const
  ctx.save()
  ctx.strokeStyle = paint['ink-quiet']
  ctx.lineWidth = 2
  ctx.lineCap = 'butt'
  ctx.lineJoin = 'miter'
  for (const wall of walls) {
    trace(pen, wall)
    ctx.stroke()
  }
  // The rims behind the plane.
  ctx.strokeStyle = paint['rule-strong']
  ctx.lineWidth = 1
  const ends = (t.joints?.length ?? 0) > MOST_JOINTS ? [0, walls[0].length - 1] : walls[0].map((_, i) => i)
  for (const i of ends) {
    const [z, top] = walls[0][i]!
    line(ctx, pen.x(z), pen.y(top), pen.x(z), pen.y(walls[1][i]![1]))
  }
  ctx.restore()
}

/** Inside the lower wall at each joint: its size, or both at a step. */
export function drawJointSizes(pen: Pen): void {
  const t = pen.lamp.tunnel
  const joints = t?.joints ?? []
  if (!t || joints.length > MOST_JOINTS) return
  for (const j of joints) {
    const { belowMm: below, aboveMm: above } = jointSizes(j, alongOf(pen.cut))
    const size =
      hasStep(j) && below !== above
        ? `${lengthWords(pen.system).number(below)} → ${lengthText(above, pen.system)}`
        : lengthText(below, pen.system)
    const inside = tunnelHalf(t, Math.min(below, above), pen.cut, -1)
    words(pen, t.sides === 0 ? `⌀ ${size}` : size, pen.x(j.zMm), pen.y(-inside) - 13)
  }
}
