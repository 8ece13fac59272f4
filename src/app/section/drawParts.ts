// The parts in section, in the order in which light meets them.
import { lensSpan } from '../../lamp/body.ts'
import { type BoardCut, cutBoards, cutEmitters, type EmitterCut, faceHalf, tunnelHalf } from '../common/cut.ts'
import { PLATE_MM } from '../common/extent.ts'
import { lengthText } from '../common/lengthText.ts'
import { focusZMm, fresnelPlanes, grooveLine, type Point, solidOutline } from '../common/lensProfile.ts'
import { rOfY } from './model/frame.ts'
import { hatchInside, line, type Pen, trace, words } from './pen.ts'

/** Grooves narrower than this, px, are too fine to see; a hint is drawn instead. */
const GROOVE_PX = 3

export function drawAxis(pen: Pen): void {
  const { ctx, size, paint } = pen
  ctx.save()
  ctx.strokeStyle = paint['rule-strong']
  ctx.lineWidth = 1
  ctx.setLineDash([16, 4, 3, 4])
  line(ctx, 0, Math.round(pen.y(0)) + 0.5, size.width, Math.round(pen.y(0)) + 0.5)
  ctx.restore()
}

export function drawFace(pen: Pen): void {
  const { ctx, paint, lamp } = pen
  const half = faceHalf(lamp.face, pen.cut)
  const left = pen.x(-PLATE_MM)
  ctx.save()
  ctx.beginPath()
  ctx.rect(left, pen.y(half), pen.x(0) - left, pen.y(-half) - pen.y(half))
  ctx.fillStyle = paint.raised
  ctx.fill()
  hatchInside(pen, paint['rule-strong'], 7, 1)
  ctx.strokeStyle = paint['ink-quiet']
  ctx.lineWidth = 1.25
  ctx.strokeRect(left, pen.y(half), pen.x(0) - left, pen.y(-half) - pen.y(half))
  ctx.restore()
}

export function drawBoards(pen: Pen): void {
  const { ctx, paint } = pen
  const seen = new Set<string>()
  ctx.save()
  for (const cut of [false, true]) {
    for (const b of cutsOf(pen).boards) {
      const key = `${cut}${b.fromMm.toFixed(2)}/${b.toMm.toFixed(2)}`
      if (b.cut !== cut || seen.has(key)) continue
      seen.add(key)
      ctx.globalAlpha = cut ? 1 : 0.35
      ctx.fillStyle = cut ? '#37604f' : paint.raised
      ctx.strokeStyle = cut ? '#8fbfa9' : paint['rule-strong']
      if (b.outline) {
        trace(pen, b.outline, 1, true)
        ctx.fill()
        ctx.stroke()
        continue
      }
      const x = pen.x(0)
      const w = Math.max(1.5, pen.x(b.thickMm) - x)
      const top = pen.y(b.toMm)
      ctx.fillRect(x, top, w, pen.y(b.fromMm) - top)
      if (pen.camera.pxPerMm > 0.8) ctx.strokeRect(x, top, w, pen.y(b.fromMm) - top)
    }
  }
  ctx.restore()
}

export function drawEmitters(pen: Pen): void {
  const { ctx, paint } = pen
  ctx.save()
  for (const cut of [false, true]) {
    for (const e of cutsOf(pen).emitters) {
      if (e.cut !== cut) continue
      trace(pen, e.outline, 1, true)
      ctx.globalAlpha = cut ? 1 : 0.3
      ctx.fillStyle = `${paint.steel}2e`
      ctx.fill()
      ctx.strokeStyle = paint.steel
      ctx.lineWidth = cut ? 1 : 0.75
      ctx.stroke()
      if (cut) drawDie(pen, e.die)
    }
  }
  ctx.restore()
}

/** Caches boards and emitters in section until they change, since every sheet redraws the section. */
function keptCuts() {
  let from: unknown[] = []
  let cuts: { boards: BoardCut[]; emitters: EmitterCut[] } = { boards: [], emitters: [] }
  return ({ lamp, cut }: Pen) => {
    const now = [lamp.boards, lamp.boardTypes, lamp.emitterTypes, lamp.opticTypes, lamp.optic, lamp.aimAt, cut]
    if (now.some((part, i) => part !== from[i])) {
      from = now
      cuts = { boards: cutBoards(lamp, cut), emitters: cutEmitters(lamp, cut) }
    }
    return cuts
  }
}
const cutsOf = keptCuts()

/** The emitting surface, in the colour of light. */
function drawDie(pen: Pen, [[z, r], [z2, r2]]: EmitterCut['die']): void {
  const { ctx, paint } = pen
  ctx.strokeStyle = paint.light
  ctx.lineWidth = 1.5
  line(ctx, pen.x(z), pen.y(r), pen.x(z2), pen.y(r2))
}

export function drawTunnel(pen: Pen): void {
  const { ctx, paint, lamp } = pen
  const t = lamp.tunnel
  if (!t) return
  ctx.save()
  for (const side of [1, -1] as const) {
    const from = tunnelHalf(t, t.inMm, pen.cut, side) * side
    const to = tunnelHalf(t, t.outMm, pen.cut, side) * side
    ctx.strokeStyle = paint['ink-quiet']
    ctx.lineWidth = 2
    ctx.lineCap = 'butt'
    line(ctx, pen.x(t.zInMm), pen.y(from), pen.x(t.zOutMm), pen.y(to))
  }
  // The rims behind the plane.
  ctx.strokeStyle = paint['rule-strong']
  ctx.lineWidth = 1
  for (const [z, size] of [
    [t.zInMm, t.inMm],
    [t.zOutMm, t.outMm],
  ] as const)
    line(ctx, pen.x(z), pen.y(tunnelHalf(t, size, pen.cut, 1)), pen.x(z), pen.y(-tunnelHalf(t, size, pen.cut, -1)))
  ctx.restore()
}

export function drawLens(pen: Pen): void {
  const { ctx, paint, lamp } = pen
  const { lens } = lamp
  if (!lens) return
  const half = lens.diameterMm / 2
  ctx.save()
  ctx.strokeStyle = paint.steel
  ctx.fillStyle = `${paint.steel}38`
  ctx.lineWidth = 1.25
  ctx.lineJoin = 'miter'
  if (lens.kind === 'ideal') {
    const x = pen.x(lens.zMm)
    line(ctx, x, pen.y(half), x, pen.y(-half))
    for (const side of [1, -1] as const) {
      const y = pen.y(half * side)
      ctx.beginPath()
      ctx.moveTo(x - 5, y + 7 * side)
      ctx.lineTo(x, y)
      ctx.lineTo(x + 5, y + 7 * side)
      ctx.stroke()
    }
  } else if (lens.kind === 'solid') {
    for (const mirror of [1, -1] as const) {
      trace(pen, solidOutline(lens), mirror, true)
      ctx.fill()
      trace(pen, solidOutline(lens).slice(0, -1), mirror)
      ctx.stroke()
      line(ctx, pen.x(lens.zMm), pen.y(0), pen.x(lens.zMm), pen.y(half * mirror))
    }
  } else drawFresnel(pen, lens)
  ctx.restore()
}

function drawFresnel(pen: Pen, lens: Extract<NonNullable<Pen['lamp']['lens']>, { kind: 'fresnel' }>): void {
  const { ctx, camera, size } = pen
  const half = lens.diameterMm / 2
  const { flatMm, valleyMm, rise } = fresnelPlanes(lens)
  const seen = [rOfY(camera, size, size.height), rOfY(camera, size, 0)] as const
  for (const mirror of [1, -1] as const) {
    // Only what is on screen: a lens may have twenty thousand grooves.
    const low = Math.max(0, Math.min(seen[0] * mirror, seen[1] * mirror))
    const high = Math.min(half, Math.max(seen[0] * mirror, seen[1] * mirror))
    if (!(high > low)) continue
    if (lens.pitchMm * camera.pxPerMm >= GROOVE_PX) {
      const grooves = grooveLine(lens, low, high)
      const body: Point[] = [[flatMm, grooves[0]![1]], ...grooves, [flatMm, grooves.at(-1)![1]]]
      trace(pen, body, mirror, true)
      ctx.fill()
      ctx.lineWidth = 1.25
      trace(pen, grooves, mirror)
      ctx.stroke()
      line(ctx, pen.x(flatMm), pen.y(low * mirror), pen.x(flatMm), pen.y(high * mirror))
    } else {
      const x = Math.min(pen.x(flatMm), pen.x(valleyMm))
      const w = Math.max(1.5, Math.abs(pen.x(valleyMm) - pen.x(flatMm)))
      const top = Math.min(pen.y(low * mirror), pen.y(high * mirror))
      const tall = Math.abs(pen.y(high * mirror) - pen.y(low * mirror))
      ctx.fillRect(x, top, w, tall)
      ctx.strokeRect(x, top, w, tall)
      grooveHint(pen, rise === 1 ? x + w : x, rise, mirror, low, high)
    }
  }
}

/** Slanted ticks on the groove side, for grooves too fine to draw. */
function grooveHint(pen: Pen, xPx: number, rise: 1 | -1, mirror: 1 | -1, low: number, high: number): void {
  const { ctx } = pen
  const from = Math.min(pen.y(low * mirror), pen.y(high * mirror))
  const to = Math.max(pen.y(low * mirror), pen.y(high * mirror))
  ctx.lineWidth = 0.75
  ctx.beginPath()
  for (let y = from + 2; y < to; y += 3.5) {
    ctx.moveTo(xPx, y)
    ctx.lineTo(xPx + 4 * rise, y + (mirror === 1 ? 2.5 : -2.5))
  }
  ctx.stroke()
}

/** A labelled cross at the focus of the lens. */
export function drawFocus(pen: Pen): void {
  const { ctx, paint, lamp, size } = pen
  if (!lamp.lens) return
  const z = focusZMm(lamp.lens)
  const x = pen.x(z)
  const y = pen.y(0)
  ctx.save()
  ctx.strokeStyle = paint.ink
  ctx.lineWidth = 1
  if (x < 6 || x > size.width - 6) {
    const left = x < 6
    const text = left ? `← focus, ${lengthText(-z)} behind the face` : `focus, ${lengthText(z)} before the face →`
    words(pen, text, left ? 8 : size.width - 8, y - 10, { align: left ? 'left' : 'right' })
  } else {
    line(ctx, x - 6, y, x + 6, y)
    line(ctx, x, y - 6, x, y + 6)
    ctx.beginPath()
    ctx.arc(x, y, 3.5, 0, 2 * Math.PI)
    ctx.stroke()
    // The sizes of face and inlet are behind the face: the label goes below them.
    const below = z < 5 ? pen.y(-lamp.face.sizeMm / 2) + 12 : y + 15
    words(pen, 'focus', x, Math.max(y + 15, below), { colour: paint.ink })
  }
  ctx.restore()
}

export const frontZ = (pen: Pen): number =>
  pen.lamp.lens ? lensSpan(pen.lamp.lens)[1] : (pen.lamp.tunnel?.zOutMm ?? 0)
