// The live layer: guide and readout of the active handle, and the ring about the place of a finding.
import type { Place } from '../../checks/finding.ts'
import { elementsOf, labelOf } from '../../lamp/assembly.ts'
import { lengthText } from '../common/lengthText.ts'
import { boxOf } from '../common/piece.ts'
import { focusOf } from '../common/pieceCut.ts'
import type { Handle, HandleName } from './model/handle.ts'
import { handlesOf } from './model/handles.ts'
import { ringOfPlace } from './model/places.ts'
import { line, type Pen, widthOf, words } from './pen.ts'

export function drawGuide(pen: Pen, name: HandleName): void {
  const handle = handlesOf(pen.lamp, pen.cut).find((h) => h.name === name)
  if (!handle) return
  const { ctx, paint, size } = pen
  ctx.save()
  ctx.strokeStyle = paint.ink
  ctx.globalAlpha = 0.6
  ctx.setLineDash([3, 3])
  if (handle.along === 'z') line(ctx, pen.x(handle.zMm), 0, pen.x(handle.zMm), size.height)
  for (const r of handle.edgesMm) line(ctx, 0, pen.y(r), size.width, pen.y(r))
  ctx.restore()
  readout(pen, handle)
}

function readout(pen: Pen, handle: Handle): void {
  const { ctx, paint, size } = pen
  const lines = [lengthText(handle.valueMm, pen.system), ...asides(pen, handle)]
  const w = Math.max(...lines.map((l, i) => widthOf(pen, l, i === 0 ? 15 : 11.5))) + 20
  const h = 14 + lines.length * 17
  const x = Math.min(size.width - w - 8, Math.max(8, pen.x(handle.zMm) - w - 26))
  const y = Math.min(size.height - h - 8, Math.max(8, pen.y(handle.rMm) - h / 2))
  ctx.save()
  ctx.fillStyle = paint.raised
  ctx.strokeStyle = paint['ink-quiet']
  ctx.fillRect(x, y, w, h)
  ctx.strokeRect(x + 0.5, y + 0.5, w, h)
  ctx.restore()
  for (const [i, text] of lines.entries()) {
    words(pen, text, x + 10, y + 17 + i * 17, {
      align: 'left',
      colour: i === 0 ? paint.ink : paint['ink-quiet'],
      px: i === 0 ? 15 : 11.5,
    })
  }
}

const aheadMm = (pen: Pen, zMm: number): number => Math.max(0, zMm - (pen.lamp.tunnel?.zOutMm ?? 0))

/** Other lengths that change with the handle. */
function asides(pen: Pen, handle: Handle): string[] {
  const { tunnel, lens } = pen.lamp
  const lines: string[] = []
  if (handle.along === 'z' && tunnel && handle.part !== 'element') {
    if (handle.part !== 'lens') lines.push(`tunnel ${lengthText(tunnel.zOutMm - tunnel.zInMm, pen.system)} long`)
    if (handle.part === 'lens' && lens)
      lines.push(`${lengthText(aheadMm(pen, boxOf(lens).from[2]), pen.system)} to the tunnel`)
    const first = elementsOf(pen.lamp)[0]
    if (handle.part === 'outlet' && first)
      lines.push(
        `${lengthText(aheadMm(pen, boxOf(first).from[2]), pen.system)} to the ${first.isLens ? 'lens' : labelOf(first)}`,
      )
  }
  if (handle.name === 'lensZ' && lens) {
    const z = focusOf(lens)[2]
    lines.push(
      Math.abs(z) < 0.05
        ? 'focus on the face'
        : `focus ${lengthText(Math.abs(z), pen.system)} ${z < 0 ? 'behind' : 'before'} the face`,
    )
  }
  if (handle.valueMm <= handle.minMm || handle.valueMm >= handle.maxMm) lines.push('no further')
  return lines
}

export function drawFocusedPlace(pen: Pen, place: Place): void {
  const ring = ringOfPlace(pen.lamp, place, pen.cut)
  if (!ring) return
  const { ctx, paint, size } = pen
  const x = pen.x(ring.zMm)
  const y = pen.y(ring.rMm)
  ctx.save()
  ctx.strokeStyle = paint.ink
  ctx.lineWidth = 2
  if (x < 0 || x > size.width) {
    words(
      pen,
      x < 0 ? '← pointed at, off the drawing' : 'pointed at, off the drawing →',
      x < 0 ? 8 : size.width - 8,
      y,
      {
        align: x < 0 ? 'left' : 'right',
        colour: paint.ink,
      },
    )
  } else {
    const radius = Math.max(15, ring.ringMm * pen.camera.pxPerMm + 8)
    ctx.setLineDash([6, 4])
    ctx.beginPath()
    ctx.arc(x, y, radius, 0, 2 * Math.PI)
    ctx.stroke()
  }
  ctx.restore()
}
