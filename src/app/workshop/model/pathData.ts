// A path of a drawing as the data of an SVG path, y down.
import { arcOf, stretchesOf } from '../../../drawing/path.ts'
import type { Path } from '../../../drawing/types.ts'

/** In mm, to a thousandth: for the screen; files are written by src/files/drawingSvg.ts, which keeps more. */
export function pathData(path: Path): string {
  const [first] = path.vertices
  if (!first) return ''
  const parts = stretchesOf(path).map(([a, b]) => {
    const arc = arcOf(a, b)
    if (!arc) return `L${n(b.x)} ${n(-b.y)}`
    // Anticlockwise with y up is the sweep flag 0 with y down.
    const flags = `${Math.abs(arc.sweepRad) > Math.PI ? 1 : 0} ${arc.sweepRad > 0 ? 0 : 1}`
    return `A${n(arc.radiusMm)} ${n(arc.radiusMm)} 0 ${flags} ${n(b.x)} ${n(-b.y)}`
  })
  return `M${n(first.x)} ${n(-first.y)}${parts.join('')}${path.closed ? 'Z' : ''}`
}

const n = (mm: number): string => String(Math.round(mm * 1e3) / 1e3 || 0)
