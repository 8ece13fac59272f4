// A drawing for the printed sheet: the regions in front of the lamp where the light exceeds the thresholds, from the side.

import { findEnvelope, traceRingContours } from '../hazard/contours.ts'
import type { DangerReading } from '../job/danger/result.ts'
import { inSystem } from '../num/quantity.ts'
import type { UnitSystem } from '../num/unitSystem.ts'
import { upDistance } from './danger.ts'
import { short } from './numbers.ts'

const WIDTH = 300
/** Height of the drawing itself; the labels stand below it, in as many lines as they need. */
const DRAWN = 66
const LEFT = 14

interface Level {
  kWm2: number
  names: string[]
  reachMm: number
}

/** Empty where the light is below every threshold. */
export function dangerOutline(d: DangerReading, system: UnitSystem = 'metric'): string {
  const levels = levelsOf(d)
  if (levels.length === 0) return ''
  const farMm = Math.max(...levels.map((l) => l.reachMm))
  const outlines = levels.map((l) => sideOutline(d, l.kWm2))
  const wideMm = Math.max(1, ...outlines.flatMap((o) => o.map(([, r]) => r)))
  const perZ = (WIDTH - LEFT - 6) / farMm
  const perR = Math.min(perZ * 8, (DRAWN / 2 - 7) / wideMm)
  const mid = DRAWN / 2
  const path = (points: readonly (readonly [number, number])[]) => {
    const upper = points.map(([z, r]) => `${(LEFT + z * perZ).toFixed(1)} ${(mid - r * perR).toFixed(1)}`)
    const lower = [...points]
      .reverse()
      .map(([z, r]) => `${(LEFT + z * perZ).toFixed(1)} ${(mid + r * perR).toFixed(1)}`)
    return `M${[...upper, ...lower].join('L')}Z`
  }
  const shapes = outlines.map((points, k) =>
    points.length === 0
      ? ''
      : `<path d="${path(points)}" fill="${FILLS[Math.min(k, FILLS.length - 1)]}" stroke="#111" stroke-width=".8"/>`,
  )
  const lens = wideMm * perR
  const { labels, height } = marks(levels, perZ, system)
  return `<svg class="outline" viewBox="0 0 ${WIDTH} ${height}" role="img" aria-label="Side view of the light over the thresholds"><rect x="${LEFT - 9}" y="${(mid - Math.min(lens, 20)).toFixed(1)}" width="9" height="${(2 * Math.min(lens, 20)).toFixed(1)}" fill="#111"/>${shapes.join('')}${labels}</svg>`
}

const FILLS = ['#fff', '#ffe9a0', '#f5c400', '#e08a00']

/** Up to four of the distinct thresholds that are reached, the farthest first. */
function levelsOf(d: DangerReading): Level[] {
  const by = new Map<number, Level>()
  for (const c of d.clear) {
    if (c.clearDistanceMm <= 0) continue
    const known = by.get(c.kWm2)
    if (known) known.names.push(c.name)
    else by.set(c.kWm2, { kWm2: c.kWm2, names: [c.name], reachMm: c.clearDistanceMm })
  }
  const apart: Level[] = []
  for (const level of [...by.values()].sort((a, b) => b.reachMm - a.reachMm)) {
    const last = apart.at(-1)
    if (!last || level.reachMm < APART * last.reachMm) apart.push(level)
  }
  return apart.slice(0, 4)
}

/** Outlines that reach nearly as far as the one before are left out: their labels would lie on one another. */
const APART = 0.6

/** Points (distance from the front, distance from the axis), near to far: the outermost place at the level. */
function sideOutline(d: DangerReading, level: number): [number, number][] {
  if (!d.volume.round)
    return findEnvelope(d.volume, level).flatMap((e) =>
      e.radiusMm > 0 ? [[e.distanceMm, e.radiusMm] as [number, number]] : [],
    )
  const points = traceRingContours(d.volume, level).flatMap((line) =>
    Array.from({ length: line.length / 2 }, (_, i): [number, number] => [
      line[2 * i]! - d.volume.frontZMm,
      line[2 * i + 1]!,
    ]),
  )
  const outer = new Map<number, number>()
  for (const [z, r] of points) outer.set(z, Math.max(outer.get(z) ?? 0, r))
  return [...outer].sort((a, b) => a[0] - b[0])
}

/** 8.5 pt where the drawing is as wide as half of a page. */
const TEXT = 11.5
/** About the widest of usual fonts, of the text's size for each character. */
const CHARACTER = 0.62

/** Labels at the bottom, each below the end of its outline, in the first line that has room. */
function marks(levels: readonly Level[], perZ: number, system: UnitSystem): { labels: string; height: number } {
  const lines: (readonly [number, number])[][] = []
  const drawn = levels.map((l) => {
    const x = LEFT + l.reachMm * perZ
    const text = `${inSystem(upDistance(l.reachMm), system)}: ${short(l.kWm2)} kW/m²`
    const width = text.length * CHARACTER * TEXT
    const isEnd = x > WIDTH / 2
    const [from, to] = isEnd ? [x - width, x] : [x, x + width]
    const free = lines.findIndex((line) => line.every(([a, b]) => to < a || from > b))
    const k = free === -1 ? lines.push([]) - 1 : free
    lines[k]?.push([from, to])
    const y = DRAWN + (k + 1) * (TEXT + 1)
    return `<path d="M${x.toFixed(1)} 4V${(y - TEXT + 1).toFixed(1)}" stroke="#111" stroke-width=".4" stroke-dasharray="2 2"/><text x="${x.toFixed(1)}" y="${y.toFixed(1)}" font-size="${TEXT}" text-anchor="${isEnd ? 'end' : 'start'}">${text}</text>`
  })
  return { labels: drawn.join(''), height: DRAWN + lines.length * (TEXT + 1) + 4 }
}
