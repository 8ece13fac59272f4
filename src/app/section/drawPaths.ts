// Traced paths, projected onto the plane of the section, distinguished by how they end.
import type { Paths } from '../../job/beam/sheet.ts'
import { axesOf } from '../common/cut.ts'
import { FATE_GROUPS, type FateGroup, pathsByGroup } from '../common/fates.ts'
import type { Pen } from './pen.ts'

export function drawPaths(pen: Pen, paths: Paths, stale: boolean, hidden: readonly FateGroup['name'][]): void {
  const { ctx } = pen
  const { r } = axesOf(pen.cut)
  const groups = pathsByGroup(paths)
  ctx.save()
  ctx.lineJoin = 'round'
  // Light that leaves the lamp is drawn first; the losses, which are few, stay visible on top.
  for (const [g, group] of FATE_GROUPS.entries()) {
    if (hidden.includes(group.name)) continue
    const out = group.name === 'out'
    const members = groups[g]!
    ctx.strokeStyle = group.colour[pen.paint.theme]
    ctx.fillStyle = group.colour[pen.paint.theme]
    // The more paths in a group, the fainter each of them.
    const ink = Math.min(1, Math.sqrt(50 / Math.max(1, members.length)))
    ctx.globalAlpha = (out ? 0.3 : 0.8 * ink) * (stale ? 0.3 : 1)
    ctx.lineWidth = out ? 1 : 1.1
    ctx.setLineDash([...group.dash])
    for (const i of members) {
      const from = paths.start[i]!
      const to = paths.start[i + 1]!
      // Dashes start at different offsets: equal offsets would form rings that mean nothing.
      ctx.lineDashOffset = (i * 7.3) % 23
      if (to - from < 2) continue
      ctx.beginPath()
      for (let v = from; v < to; v++) {
        const x = pen.x(paths.xyz[3 * v + 2]!)
        const y = pen.y(paths.xyz[3 * v + r]!)
        if (v === from) ctx.moveTo(x, y)
        else ctx.lineTo(x, y)
      }
      ctx.stroke()
      if (!out) endMark(pen, paths, to - 1, r)
    }
  }
  ctx.restore()
}

function endMark(pen: Pen, paths: Paths, vertex: number, r: 0 | 1): void {
  const { ctx } = pen
  ctx.beginPath()
  ctx.arc(pen.x(paths.xyz[3 * vertex + 2]!), pen.y(paths.xyz[3 * vertex + r]!), 1.8, 0, 2 * Math.PI)
  ctx.fill()
}
