// Lines of equal irradiance: on one plane of the volume, and in the (r, z) map as an outline for the Section. Marching squares, straight
// between the middles of cells; the level of a threshold splits the volume into what harms and what doesn't.
import type { FrontVolume, VolumePlane } from './volume.ts'

/** A line through points x0 y0 x1 y1 …; closed where it ends where it began. */
export type Contour = Float32Array

/** Values over a grid of places; whatever the unit. */
export interface Field {
  columns: number
  rows: number
  value: (column: number, row: number) => number
  place: (column: number, row: number) => readonly [number, number]
}

/**
 * Lines of equal irradiance on one plane, x and y in mm; level in kW/m². Beyond the grid there is no light, so lines
 * close. Marching squares (common practice, no source).
 */
export function tracePlaneContours({ n, halfMm, kWm2 }: VolumePlane, level: number): Contour[] {
  const size = (2 * halfMm) / n
  return traceContours(
    {
      columns: n + 2,
      rows: n + 2,
      value: (c, r) => (c < 1 || r < 1 || c > n || r > n ? 0 : kWm2[(r - 1) * n + c - 1]!),
      place: (c, r) => [(c - 0.5) * size - halfMm, (r - 0.5) * size - halfMm],
    },
    level,
  )
}

/**
 * Lines of equal irradiance in the half plane: z (lamp frame, mm) and distance from the axis, mm, from the front on;
 * by the mean round the axis. Level in kW/m².
 */
export function traceRingContours({ frontZMm, planes, ringMap }: FrontVolume, level: number): Contour[] {
  const { rings, ringMm, kWm2 } = ringMap
  return traceContours(
    {
      columns: planes.length + 1,
      rows: rings + 1,
      value: (c, r) => (c >= planes.length || r >= rings ? 0 : kWm2[c * rings + r]!),
      place: (c, r) => {
        const plane = Math.min(c, planes.length - 1)
        const beyond = c > plane ? 1.0001 : 1
        return [frontZMm + planes[plane]!.distanceMm * beyond, r === 0 ? 0 : (r + 0.5) * ringMm[plane]!]
      },
    },
    level,
  )
}

/**
 * Farthest place from the axis, mm, plane by plane, where a cell reaches the level (kW/m²): an envelope for lamps
 * that aren't round. 0: none.
 */
export const findEnvelope = ({ planes }: FrontVolume, level: number): { distanceMm: number; radiusMm: number }[] =>
  planes.map(({ distanceMm, halfMm, n, kWm2 }) => {
    const size = (2 * halfMm) / n
    let radiusMm = 0
    for (let i = 0; i < kWm2.length; i++) {
      if (kWm2[i]! < level) continue
      const [x, y] = [Math.abs(((i % n) + 0.5) * size - halfMm), Math.abs((Math.floor(i / n) + 0.5) * size - halfMm)]
      radiusMm = Math.max(radiusMm, Math.hypot(x + size / 2, y + size / 2))
    }
    return { distanceMm, radiusMm }
  })

/** Lines where a field crosses a level, in its places' unit; open where they end at its edge. Marching squares (common practice, no source). */
export function traceContours(field: Field, level: number): Contour[] {
  const links = new Map<string, string[]>()
  const points = new Map<string, readonly [number, number]>()
  const link = (a: string, b: string) => {
    links.set(a, [...(links.get(a) ?? []), b])
    links.set(b, [...(links.get(b) ?? []), a])
  }
  for (let r = 0; r < field.rows - 1; r++)
    for (let c = 0; c < field.columns - 1; c++)
      for (const [a, b] of findCrossings(field, level, c, r, points)) link(a, b)
  return joinChains(links, points)
}

/** The sides of a square between four middles that the level crosses, in pairs. */
function findCrossings(
  field: Field,
  level: number,
  c: number,
  r: number,
  points: Map<string, readonly [number, number]>,
): [string, string][] {
  const corner = [
    [c, r],
    [c + 1, r],
    [c + 1, r + 1],
    [c, r + 1],
  ] as const
  const values = corner.map(([x, y]) => field.value(x, y))
  const over = values.map((v) => v >= level)
  const crossed: string[] = []
  for (let k = 0; k < 4; k++) {
    const next = (k + 1) % 4
    if (over[k] === over[next]) continue
    // A side has one name from both its squares.
    const swap = k === 2 || k === 3
    const [a, b] = swap ? [next, k] : [k, next]
    const name = `${corner[a]![0]},${corner[a]![1]},${k % 2}`
    if (!points.has(name)) {
      const t = (level - values[a]!) / (values[b]! - values[a]!)
      const [p, q] = [field.place(...corner[a]!), field.place(...corner[b]!)]
      points.set(name, [p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1])])
    }
    crossed.push(name)
  }
  if (crossed.length === 2) return [[crossed[0]!, crossed[1]!]]
  if (crossed.length < 4) return []
  // A saddle: the middle decides which corners belong together.
  const middle = values.reduce((a, b) => a + b, 0) / 4 >= level
  return over[0] === middle
    ? [
        [crossed[0]!, crossed[1]!],
        [crossed[2]!, crossed[3]!],
      ]
    : [
        [crossed[3]!, crossed[0]!],
        [crossed[1]!, crossed[2]!],
      ]
}

function joinChains(links: Map<string, string[]>, points: Map<string, readonly [number, number]>): Contour[] {
  const left = new Set(links.keys())
  const out: Contour[] = []
  const walk = (start: string) => {
    const line = [start]
    left.delete(start)
    let at = start
    for (;;) {
      const next = links.get(at)!.find((name) => left.has(name))
      if (next === undefined) break
      line.push(next)
      left.delete(next)
      at = next
    }
    if (line.length > 2 && links.get(at)!.includes(start)) line.push(start)
    out.push(Float32Array.from(line.flatMap((name) => [...points.get(name)!])))
  }
  // Open lines from their ends first.
  for (const [name, of] of links) if (of.length === 1 && left.has(name)) walk(name)
  for (const name of links.keys()) if (left.has(name)) walk(name)
  return out
}
