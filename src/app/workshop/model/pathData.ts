// A path or circle of a drawing as the data of an SVG path: y down, arcs by their bulge (tan of a quarter of the angle).
import type { Circle, Path } from '../../../drawing/types.ts'

export function pathData(item: Path | Circle): string {
  if (item.kind === 'circle') {
    const { x, y, radiusMm: r } = item
    return `M${n(x - r)} ${n(-y)}a${n(r)} ${n(r)} 0 1 0 ${n(2 * r)} 0a${n(r)} ${n(r)} 0 1 0 ${n(-2 * r)} 0Z`
  }
  const { vertices, closed } = item
  const first = vertices[0]
  if (!first) return ''
  const parts = [`M${n(first.x)} ${n(-first.y)}`]
  for (const [i, from] of vertices.entries()) {
    const to = vertices[i + 1] ?? (closed ? first : null)
    if (!to) break
    if (from.bulge === 0) parts.push(`L${n(to.x)} ${n(-to.y)}`)
    else {
      // r = chord (1 + b²) / (4 |b|): from the definition of the bulge.
      const chord = Math.hypot(to.x - from.x, to.y - from.y)
      const r = (chord * (1 + from.bulge ** 2)) / (4 * Math.abs(from.bulge))
      parts.push(
        `A${n(r)} ${n(r)} 0 ${Math.abs(from.bulge) > 1 ? 1 : 0} ${from.bulge > 0 ? 0 : 1} ${n(to.x)} ${n(-to.y)}`,
      )
    }
  }
  return parts.join('') + (closed ? 'Z' : '')
}

const n = (mm: number): string => String(Math.round(mm * 1e3) / 1e3 || 0)
