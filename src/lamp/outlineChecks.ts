// What one corner of an outline can't say alone: edges that cross, too little inside, a size that disagrees.
import { type Corner, farthest, findCrossing, signedArea } from '../num/polygon.ts'
import { LIMITS } from './limits.ts'
import type { Lamp } from './schema.ts'

/** Documents state a polygon's size in hundredths. */
const SIZE_TOLERANCE_MM = 0.02

export function findOutlineFaults({ face, boardTypes }: Lamp): string[] {
  const why: string[] = []
  const { shape, sizeMm, heightMm, corners } = face
  if (shape === 'rectangle' && heightMm === undefined)
    why.push('face.heightMm: nothing stands here; a rectangle needs its size along y.')
  if (shape !== 'rectangle' && heightMm !== undefined)
    why.push(`face.heightMm: only a rectangle has one; this face is "${shape}".`)
  if (shape === 'polygon' && !corners) why.push('face.corners: nothing stands here; a polygon needs them.')
  if (shape !== 'polygon' && corners) why.push(`face.corners: only a polygon has them; this face is "${shape}".`)
  if (shape === 'polygon' && corners) {
    why.push(...findCornerFaults(corners, 'face.corners'))
    const twice = 2 * farthest(corners)
    if (Math.abs(sizeMm - twice) > SIZE_TOLERANCE_MM)
      why.push(
        `face.sizeMm: ${sizeMm} does not fit; expected ${Math.round(100 * twice) / 100}, twice the distance of the farthest corner from the axis.`,
      )
  }
  for (const [i, { outline }] of boardTypes.entries())
    if (outline.shape === 'polygon') why.push(...findCornerFaults(outline.corners, `boardTypes[${i}].outline.corners`))
  return why
}

function findCornerFaults(corners: readonly Corner[], where: string): string[] {
  for (const [i, [x, y]] of corners.entries()) {
    const before = i === 0 ? corners.length - 1 : i - 1
    const [bx, by] = corners[before]!
    if (Math.hypot(x - bx, y - by) < LIMITS.cornerGapMm)
      return [`${where}[${i}]: less than ${LIMITS.cornerGapMm} mm from the corner before it, [${before}].`]
  }
  const crossing = findCrossing(corners)
  if (crossing) {
    const edge = (i: number) => `[${i}] to [${(i + 1) % corners.length}]`
    return [`${where}: the edges ${edge(crossing[0])} and ${edge(crossing[1])} cross or touch.`]
  }
  const area = Math.abs(signedArea(corners))
  return area < LIMITS.outlineMm2
    ? [`${where}: encloses ${Number(area.toPrecision(2))} mm²; expected at least ${LIMITS.outlineMm2}.`]
    : []
}
