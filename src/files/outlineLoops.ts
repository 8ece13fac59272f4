// From the chains of a drawing to its outline: ends that meet are joined, the largest closed loop is the outline, loops in it are holes.
import { LIMITS } from '../lamp/limits.ts'
import type { KeepOut } from '../lamp/schema.ts'
import { type Corner, edgesOf, findCrossing, isInPolygon, nearestOnEdge, signedArea } from '../num/polygon.ts'
import { CHORD_MM, type Point } from './outlineChords.ts'

export type Chains = { ok: true; chains: Point[][]; notes: string[] } | { ok: false; why: string }

export interface Outline {
  /** Anticlockwise, mm, in the drawing's own frame, y upwards. */
  corners: Corner[]
  /** Circles about what is cut out of it. */
  keepOuts: Extract<KeepOut, { shape: 'hole' }>[]
  notes: string[]
}

/** Ends so near to each other meet, mm. */
const JOINED_MM = 0.05
const MOST_POINTS = 200_000
const MOST_HOLES = 100
/** Points that lie so near to the line between their neighbours say nothing, mm. */
const STRAIGHT_MM = 1e-4

export function chooseOutline(read: Chains): { ok: true; outline: Outline } | { ok: false; why: string } {
  if (!read.ok) return read
  const points = read.chains.reduce((sum, chain) => sum + chain.length, 0)
  if (points === 0) return { ok: false, why: 'The drawing has no lines.' }
  if (points > MOST_POINTS) return { ok: false, why: `The drawing has ${points} points; at most ${MOST_POINTS}.` }
  if (read.chains.some((chain) => chain.some(([x, y]) => !Number.isFinite(x) || !Number.isFinite(y))))
    return { ok: false, why: 'The drawing has coordinates that are no numbers.' }
  const { loops, open } = joinChains(read.chains)
  const sorted = loops
    .map(tidyLoop)
    .filter((l) => l.length >= 3)
    .sort((a, b) => areaOf(b) - areaOf(a))
  const [largest, ...rest] = sorted
  if (!largest || areaOf(largest) < LIMITS.outlineMm2)
    return {
      ok: false,
      why: `No closed outline: ${open} ${open === 1 ? 'line' : 'lines'} with open ends, more than ${JOINED_MM} mm apart.`,
    }
  const notes = [...read.notes]
  const { corners, withinMm } = thin(largest)
  if (withinMm > 0)
    notes.push(
      `${largest.length} corners were thinned to ${corners.length}, within ${Number(withinMm.toPrecision(2))} mm.`,
    )
  const crossing = findCrossing(corners)
  if (crossing) {
    const [x, y] = meetingPoint(corners, crossing)
    return { ok: false, why: `The largest outline crosses itself near x ${x.toFixed(1)}, y ${y.toFixed(1)} mm.` }
  }
  const holes = rest.filter((loop) => loop.every(([x, y]) => isInPolygon(corners, x, y)))
  const outermost = holes.filter((h) => !holes.some((o) => o !== h && isInPolygon(o, ...h[0]!)))
  const keepOuts = outermost.slice(0, MOST_HOLES).map(circleAbout)
  if (outermost.length > MOST_HOLES) notes.push(`${outermost.length - MOST_HOLES} more holes were left aside.`)
  const beside = rest.length - holes.length
  if (beside > 0)
    notes.push(`${beside} smaller ${beside === 1 ? 'outline' : 'outlines'} beside or across the largest left aside.`)
  if (open > 0) notes.push(`${open} ${open === 1 ? 'line' : 'lines'} with open ends left aside.`)
  notes.push(`Curves are chords within ${CHORD_MM} mm.`)
  return { ok: true, outline: { corners, keepOuts, notes } }
}

/** Where two edges cross; of edges along one line the beginning of the first. */
function meetingPoint(corners: readonly Corner[], [i, j]: readonly [number, number]): Corner {
  const edges = edgesOf(corners)
  const [first, second] = [edges[i], edges[j]]
  if (!first || !second) return [0, 0]
  const [[a, b], [c, d]] = [first, second]
  const across = (b[0] - a[0]) * (d[1] - c[1]) - (b[1] - a[1]) * (d[0] - c[0])
  const t = across === 0 ? 0 : ((c[0] - a[0]) * (d[1] - c[1]) - (c[1] - a[1]) * (d[0] - c[0])) / across
  return [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])]
}

const areaOf = (loop: readonly Corner[]): number => Math.abs(signedArea(loop))

const endsOf = (chain: readonly Point[]): [Point, Point] => [chain[0]!, chain[chain.length - 1]!]

/** Chains whose ends meet become one, until they close or none fits. */
function joinChains(chains: readonly Point[][]): { loops: Point[][]; open: number } {
  const loops: Point[][] = []
  const left = new Set(chains.filter((c) => c.length > 1))
  const ends = new Map<string, Set<Point[]>>()
  const cell = (v: number) => Math.round(v / JOINED_MM)
  const key = (x: number, y: number) => `${x} ${y}`
  for (const chain of left)
    for (const [x, y] of endsOf(chain)) {
      const at = key(cell(x), cell(y))
      ends.set(at, (ends.get(at) ?? new Set()).add(chain))
    }
  const near = (a: Point, b: Point) => Math.hypot(a[0] - b[0], a[1] - b[1]) <= JOINED_MM
  /** The chain with the end nearest to a point. */
  const nextAt = (p: Point): Point[] | undefined => {
    let best: Point[] | undefined
    let least = JOINED_MM
    for (let i = -1; i <= 1; i++)
      for (let j = -1; j <= 1; j++)
        for (const chain of ends.get(key(cell(p[0]) + i, cell(p[1]) + j)) ?? []) {
          if (!left.has(chain)) continue
          const away = Math.min(...endsOf(chain).map((e) => Math.hypot(e[0] - p[0], e[1] - p[1])))
          if (away <= least) [best, least] = [chain, away]
        }
    return best
  }
  let open = 0
  for (const first of left) {
    left.delete(first)
    const way = [...first]
    const last = () => way[way.length - 1]!
    const closes = () => way.length > 3 && near(way[0]!, last())
    while (!closes()) {
      const next = nextAt(last())
      if (!next) break
      left.delete(next)
      const on = near(next[0]!, last()) ? next : next.toReversed()
      way.push(...on.slice(1))
    }
    if (closes()) loops.push(way.slice(0, -1))
    else open++
  }
  return { loops, open }
}

/** Anticlockwise, in tenths of a micrometre, without repeated and straight points. */
function tidyLoop(loop: readonly Point[]): Corner[] {
  const tidy = (v: number) => Math.round(v * 1e4) / 1e4 + 0
  const turned = signedArea(loop) < 0 ? loop.toReversed() : loop
  let corners: Corner[] = turned.map(([x, y]): Corner => [tidy(x), tidy(y)])
  corners = corners.filter((c, i) => {
    const before = corners.at(i - 1) ?? c
    return Math.hypot(c[0] - before[0], c[1] - before[1]) >= LIMITS.cornerGapMm
  })
  return simplify(corners, STRAIGHT_MM)
}

/** As few corners as a document holds, and how far they may lie from the drawing's; 0: all of them. */
function thin(loop: readonly Corner[]): { corners: Corner[]; withinMm: number } {
  if (loop.length <= LIMITS.corners) return { corners: [...loop], withinMm: 0 }
  for (let withinMm = CHORD_MM / 2; ; withinMm *= 1.5) {
    const corners = simplify(loop, withinMm)
    if (corners.length <= LIMITS.corners) return { corners, withinMm }
  }
}

/** D. Douglas and T. Peucker, 1973, on both halves between the first corner and the one farthest from it. */
function simplify(loop: readonly Corner[], withinMm: number): Corner[] {
  if (loop.length < 4) return [...loop]
  const away = loop.map(([x, y]) => Math.hypot(x - loop[0]![0], y - loop[0]![1]))
  const far = away.indexOf(Math.max(...away))
  const stays = new Uint8Array(loop.length + 1)
  stays[0] = 1
  stays[far] = 1
  const at = (i: number): Corner => loop[i % loop.length]!
  const stack: [number, number][] = [
    [0, far],
    [far, loop.length],
  ]
  for (let span = stack.pop(); span; span = stack.pop()) {
    const [from, to] = span
    let most = withinMm
    let worst = -1
    for (let i = from + 1; i < to; i++) {
      const [x, y] = at(i)
      const [qx, qy] = nearestOnEdge(x, y, ...at(from), ...at(to))
      const off = Math.hypot(qx - x, qy - y)
      if (off > most) [most, worst] = [off, i]
    }
    if (worst < 0) continue
    stays[worst] = 1
    stack.push([from, worst], [worst, to])
  }
  return loop.filter((_, i) => stays[i] === 1)
}

/** About the middle of its box, through its farthest corner: never smaller than the hole. */
function circleAbout(loop: readonly Corner[]): Extract<KeepOut, { shape: 'hole' }> {
  const [xs, ys] = [loop.map(([x]) => x), loop.map(([, y]) => y)]
  const xMm = (Math.min(...xs) + Math.max(...xs)) / 2
  const yMm = (Math.min(...ys) + Math.max(...ys)) / 2
  const radius = Math.max(...loop.map(([x, y]) => Math.hypot(x - xMm, y - yMm)))
  const tidy = (v: number) => Math.round(v * 1e3) / 1e3 + 0
  return {
    shape: 'hole',
    xMm: tidy(xMm),
    yMm: tidy(yMm),
    diameterMm: Math.ceil(2000 * radius) / 1000,
    why: 'hole of the drawing',
  }
}

export interface Placement {
  /** The middle of its box on the axis. */
  centred: boolean
  /** A quarter turn anticlockwise. */
  turned: boolean
}

/** The outline as it goes into a lamp. */
export function placeOutline({ corners, keepOuts, notes }: Outline, { centred, turned }: Placement): Outline {
  const [xs, ys] = [corners.map(([x]) => x), corners.map(([, y]) => y)]
  const middle = (v: readonly number[]) => (centred ? (Math.min(...v) + Math.max(...v)) / 2 : 0)
  const [mx, my] = [middle(xs), middle(ys)]
  const tidy = (v: number) => Math.round(v * 1e4) / 1e4 + 0
  const moved = (x: number, y: number): Corner => {
    const [dx, dy] = [x - mx, y - my]
    return turned ? [tidy(-dy), tidy(dx)] : [tidy(dx), tidy(dy)]
  }
  return {
    corners: corners.map(([x, y]) => moved(x, y)),
    keepOuts: keepOuts.map((k) => {
      const [xMm, yMm] = moved(k.xMm, k.yMm)
      return { ...k, xMm, yMm }
    }),
    notes,
  }
}
