// What a backward ray may run into: every emitter's exit patch, sorted by height and laid on a grid each, so that a ray's cost does not
// grow with the number of emitters. Made once a scene, from the same arrays that the forward tracer reads.

import { type BoxTree, makeBoxTree } from '../../num/boxTree.ts'
import { memoize } from '../../num/memoize.ts'
import * as BOARD from '../../optics/boardRow.ts'
import { cupMouth } from '../../optics/cupBack.ts'
import * as E from '../../optics/emitterRow.ts'
import * as FRAME from '../../optics/frameRow.ts'
import * as KIND from '../../optics/kindRow.ts'
import * as P from '../../optics/params.ts'
import type { Scene } from '../../scene/scene.ts'

/** Emitter patches at one height. A cup's patch is its mouth. */
export interface Plane {
  zMm: number
  fromX: number
  fromY: number
  columns: number
  rows: number
  perMm: number
  /** Patches of cell i: items[start[i]] to items[start[i + 1] - 1], numbers of emitters. */
  start: Int32Array
  items: Int32Array
}

export interface Sources {
  count: number
  /** Share of the emitted watts, by emitter: what the alias table draws. */
  share: Float64Array
  /** Share × efficiency / area of the patch that light starts from: times the density per steradian over cosθ it is a radiance. */
  radiance: Float64Array
  /** Axis of the cup, or centre of the patch. */
  atX: Float64Array
  atY: Float64Array
  /** 1 where a cup stands in the way from the emitter to its plane. */
  cup: Uint8Array
  /** Height of the plane that a backward ray meets. */
  planeZ: Float64Array
  /** Planes from the top down: those that traced rays may meet. */
  planes: Plane[]
  /** Emitters whose light leaves the lamp at once, whatever is below. */
  open: boolean
  /** 1 for those. */
  direct: Uint8Array
  /** Patches of tilted emitters (Scene.frames) in the lamp's frame, in place of planes; places and heights above are then in each one's own. */
  tilted: TiltedPatches | null
}

interface TiltedPatches {
  tree: BoxTree
  /** Emitter of each of the tree's items. */
  emitters: Int32Array
  /** Height that the highest reaches, mm. */
  topMm: number
}

/** `findSources`, memoized while the emitters stay as they are. Not to be written into. */
export const sourcesOf: (scene: Scene) => Sources = memoize(
  ({ params: p, emitters, frames, kinds }) => [
    emitters,
    frames,
    kinds,
    [p[P.emitters]!, p[P.lensKind]!, p[P.hasTunnel]!, p[P.zOut]!],
  ],
  findSources,
)

export function findSources(scene: Scene): Sources {
  const { params: p, emitters, frames, kinds } = scene
  const framed = frames.length > 0
  const count = p[P.emitters]!
  const share = drawnShares(emitters, count)
  const s: Sources = {
    count,
    share,
    radiance: new Float64Array(count),
    atX: new Float64Array(count),
    atY: new Float64Array(count),
    cup: new Uint8Array(count),
    planeZ: new Float64Array(count),
    planes: [],
    open: false,
    direct: new Uint8Array(count),
    tilted: null,
  }
  const reachX = new Float64Array(count)
  const reachY = new Float64Array(count)
  for (let i = 0; i < count; i++) {
    const at = i * E.size
    const kind = emitters[at + E.kind]! * KIND.size
    const cos = emitters[at + E.cos]!
    const sin = emitters[at + E.sin]!
    const halfX = kinds[kind + KIND.halfX]!
    const halfY = kinds[kind + KIND.halfY]!
    const disc = kinds[kind + KIND.disc]! > 0
    s.radiance[i] = (share[i]! * kinds[kind + KIND.efficiency]!) / patchArea(kinds, kind)
    s.atX[i] = emitters[at + E.x]!
    s.atY[i] = emitters[at + E.y]!
    s.planeZ[i] = kinds[kind + KIND.z]!
    reachX[i] = disc ? halfX : Math.abs(cos) * halfX + Math.abs(sin) * halfY
    reachY[i] = disc ? halfX : Math.abs(sin) * halfX + Math.abs(cos) * halfY
    // A cup whose mouth is below its emitter is none: passCup lets the light go at once.
    if (kinds[kind + KIND.optic]! > 0 && cupMouth(kinds, kind) > s.planeZ[i]!) {
      const sx = kinds[kind + KIND.cupX]!
      const sy = kinds[kind + KIND.cupY]!
      s.atX[i]! -= cos * sx - sin * sy
      s.atY[i]! -= sin * sx + cos * sy
      s.cup[i] = 1
      s.planeZ[i] = cupMouth(kinds, kind)
      reachX[i] = kinds[kind + KIND.cupExit]! / 2
      reachY[i] = reachX[i]!
    }
    // As the forward tracer emits it.
    if (p[P.lensKind]! === 0 && (p[P.hasTunnel]! === 0 || (!framed && s.planeZ[i]! >= p[P.zOut]!))) {
      s.direct[i] = 1
      if (share[i]! > 0) s.open = true
    }
  }
  if (framed) {
    s.tilted = tiltedPatches(s, frames, reachX, reachY, kinds, emitters)
    return s
  }
  const heights = new Map<number, number[]>()
  for (let i = 0; i < count; i++) {
    if (s.direct[i]! > 0 || !(share[i]! > 0)) continue
    const list = heights.get(s.planeZ[i]!) ?? []
    list.push(i)
    heights.set(s.planeZ[i]!, list)
  }
  const order = [...heights.keys()].sort((a, b) => b - a)
  s.planes = order.map((z) => layGrid(z, heights.get(z)!, s, reachX, reachY))
  return s
}

/** Boxes about the patches: a disc of radius r reaches r √(1 − n²) along an axis on which its normal has the share n. */
function tiltedPatches(
  s: Sources,
  frames: Float32Array,
  reachX: Float64Array,
  reachY: Float64Array,
  kinds: Float32Array,
  emitters: Float32Array,
): TiltedPatches {
  const lit = Array.from(s.share.keys()).filter((i) => s.share[i]! > 0)
  const boxes = new Float64Array(6 * lit.length)
  let topMm = Number.NEGATIVE_INFINITY
  for (const [k, i] of lit.entries()) {
    const at = i * FRAME.size
    const round = s.cup[i]! > 0 || kinds[emitters[i * E.size + E.kind]! * KIND.size + KIND.disc]! > 0
    for (let axis = 0; axis < 3; axis++) {
      const m = at + FRAME.rotation + 3 * axis
      const [x, y, z] = [frames[m]!, frames[m + 1]!, frames[m + 2]!]
      const middle = x * s.atX[i]! + y * s.atY[i]! + z * s.planeZ[i]! + frames[at + FRAME.x + axis]!
      const reach = round ? reachX[i]! * Math.hypot(x, y) : Math.abs(x) * reachX[i]! + Math.abs(y) * reachY[i]!
      boxes[6 * k + axis] = middle - reach - ROUNDING_MM
      boxes[6 * k + 3 + axis] = middle + reach + ROUNDING_MM
      if (axis === 2) topMm = Math.max(topMm, middle + reach)
    }
  }
  return { tree: makeBoxTree(boxes), emitters: Int32Array.from(lit), topMm }
}
/** A flat patch's box has no thickness: so far a place on it may be rounded off. */
const ROUNDING_MM = 1e-6

function patchArea(kinds: Float32Array, kind: number): number {
  const halfX = kinds[kind + KIND.halfX]!
  return kinds[kind + KIND.disc]! > 0 ? Math.PI * halfX * halfX : 4 * halfX * kinds[kind + KIND.halfY]!
}

/** The shares that an alias table draws (M. D. Vose 1991). */
function drawnShares(emitters: Float32Array, count: number): Float64Array {
  const share = new Float64Array(count)
  for (let i = 0; i < count; i++) {
    const own = emitters[i * E.size + E.aliasShare]!
    share[i]! += own / count
    share[emitters[i * E.size + E.alias]!]! += (1 - own) / count
  }
  for (let i = 0; i < count; i++) if (share[i]! < 1e-9 / count) share[i] = 0
  return share
}

const MOST_CELLS = 1 << 16

const cellAt = (off: number, cell: number, n: number): number => Math.min(n - 1, Math.max(0, Math.floor(off / cell)))

function layGrid(zMm: number, list: number[], s: Sources, reachX: Float64Array, reachY: Float64Array): Plane {
  let fromX = Number.POSITIVE_INFINITY
  let fromY = fromX
  let toX = -fromX
  let toY = -fromX
  let extent = 0
  for (const i of list) {
    fromX = Math.min(fromX, s.atX[i]! - reachX[i]!)
    fromY = Math.min(fromY, s.atY[i]! - reachY[i]!)
    toX = Math.max(toX, s.atX[i]! + reachX[i]!)
    toY = Math.max(toY, s.atY[i]! + reachY[i]!)
    extent += (reachX[i]! + reachY[i]!) / list.length
  }
  // Four cells across a patch: few empty neighbours, few cells a patch.
  const cell = Math.max(extent / 4, Math.sqrt(((toX - fromX) * (toY - fromY)) / MOST_CELLS), 1e-6)
  const columns = Math.max(1, Math.ceil((toX - fromX) / cell))
  const rows = Math.max(1, Math.ceil((toY - fromY) / cell))
  const start = new Int32Array(columns * rows + 1)
  /** Each patch with the first and the last column and row that it reaches. */
  const reached: [number, number, number, number, number][] = []
  for (const i of list) {
    const [x, y, rx, ry] = [s.atX[i]!, s.atY[i]!, reachX[i]!, reachY[i]!]
    const [x0, x1] = [cellAt(x - rx - fromX, cell, columns), cellAt(x + rx - fromX, cell, columns)]
    const [y0, y1] = [cellAt(y - ry - fromY, cell, rows), cellAt(y + ry - fromY, cell, rows)]
    reached.push([i, x0, x1, y0, y1])
    for (let row = y0; row <= y1; row++)
      for (let column = x0; column <= x1; column++) start[row * columns + column + 1]!++
  }
  for (let c = 0; c < columns * rows; c++) start[c + 1]! += start[c]!
  const items = new Int32Array(start[columns * rows]!)
  const next = start.slice()
  for (const [i, x0, x1, y0, y1] of reached)
    for (let row = y0; row <= y1; row++)
      for (let column = x0; column <= x1; column++) items[next[row * columns + column]!++] = i
  return { zMm, fromX, fromY, columns, rows, perMm: 1 / cell, start, items }
}

/** What of a scene can't be traced backwards, in words; empty when all can. The forward estimate is then used alone. */
export function backwardUnsupported(scene: Scene): string[] {
  const { params: p, emitters, kinds } = scene
  const lacks = new Set<string>()
  if (p[P.source]! > 0) lacks.add('The sun is traced from its own end only.')
  if (p[P.byRays] === 1)
    lacks.add('An emitter’s light is single rays of a file: they are traced from their own end only.')
  const tilted = p[P.emitters]! > 0 ? sourcesOf(scene).tilted : null
  if (tilted && p[P.lensKind]! > 0 && tilted.topMm > p[P.lensFront]!) lacks.add(ABOVE_LENS)
  if (tilted && p[P.lensKind] === 0 && p[P.hasTunnel]! > 0) {
    if (Math.max(tilted.topMm, boardsTopMm(scene.boards)) > p[P.zOut]!)
      lacks.add('A tilted board or its emitters stand above the tunnel’s outlet.')
  }
  for (let i = 0; i < p[P.emitters]!; i++) {
    const kind = emitters[i * E.size + E.kind]! * KIND.size
    const z = kinds[kind + KIND.z]!
    const cup = kinds[kind + KIND.optic]! > 0 && cupMouth(kinds, kind) > z
    if (!tilted && p[P.lensKind]! > 0 && (cup ? cupMouth(kinds, kind) : z) > p[P.lensFront]!) lacks.add(ABOVE_LENS)
    if (!cup) continue
    const halfX = kinds[kind + KIND.halfX]!
    const halfY = kinds[kind + KIND.disc]! > 0 ? 0 : kinds[kind + KIND.halfY]!
    const off = Math.hypot(kinds[kind + KIND.cupX]!, kinds[kind + KIND.cupY]!)
    const f = kinds[kind + KIND.cupFocal]!
    const above = kinds[kind + KIND.cupZ]! + f
    const reach = off + Math.hypot(halfX, halfY)
    if (reach * reach >= 4 * f * above) lacks.add('An emitter is larger than its reflector cup at that height.')
  }
  return [...lacks]
}

const ABOVE_LENS = 'An emitter stands above the lens’s front.'

/** Height that a board that stops light reaches at most, mm. */
function boardsTopMm(boards: Float32Array): number {
  let top = Number.NEGATIVE_INFINITY
  for (let at = 0; at < boards.length; at += BOARD.size) {
    const m = at + FRAME.rotation + 6
    const reach =
      Math.hypot(boards[at + BOARD.halfX]!, boards[at + BOARD.halfY]!) * Math.hypot(boards[m]!, boards[m + 1]!)
    top = Math.max(top, boards[at + FRAME.z]! + reach)
  }
  return top
}
