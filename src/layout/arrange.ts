// Arranging boards: each function gives new boards, in the same order, and leaves the old ones alone.
import type { Board, Lamp } from '../lamp/schema.ts'
import type { Box } from '../num/grid.ts'
import { boardOutline } from './outline.ts'
import { shapeBox } from './shape.ts'

export type Edge = 'left' | 'right' | 'top' | 'bottom' | 'centreX' | 'centreY'

/** Documents keep a tenth of a micrometre and a thousandth of a degree. */
const roundMm = (v: number) => Math.round(v * 1e4) / 1e4 + 0
const roundDeg = (deg: number) => {
  const t = Math.round((((deg % 360) + 360) % 360) * 1e3) / 1e3
  return (t > 180 ? Math.round((t - 360) * 1e3) / 1e3 : t) + 0
}

const moveBoard = (board: Board, dxMm: number, dyMm: number): Board =>
  dxMm === 0 && dyMm === 0 ? board : { ...board, xMm: roundMm(board.xMm + dxMm), yMm: roundMm(board.yMm + dyMm) }

const boxIn = (lamp: Lamp, board: Board): Box => shapeBox(boardOutline(lamp, board))

/** Outlines, not origins, are brought in line: with the outermost edge, or with the middle of all. */
export function align(lamp: Lamp, boards: readonly Board[], edge: Edge): Board[] {
  if (boards.length < 2) return [...boards]
  const boxes = boards.map((b) => boxIn(lamp, b))
  const all: Box = {
    fromX: Math.min(...boxes.map((b) => b.fromX)),
    fromY: Math.min(...boxes.map((b) => b.fromY)),
    toX: Math.max(...boxes.map((b) => b.toX)),
    toY: Math.max(...boxes.map((b) => b.toY)),
  }
  return boards.map((board, i) => moveBoard(board, ...shiftTo(edge, boxes[i]!, all)))
}

function shiftTo(edge: Edge, own: Box, all: Box): [dxMm: number, dyMm: number] {
  switch (edge) {
    case 'left':
      return [all.fromX - own.fromX, 0]
    case 'right':
      return [all.toX - own.toX, 0]
    case 'bottom':
      return [0, all.fromY - own.fromY]
    case 'top':
      return [0, all.toY - own.toY]
    case 'centreX':
      return [(all.fromX + all.toX - own.fromX - own.toX) / 2, 0]
    case 'centreY':
      return [0, (all.fromY + all.toY - own.fromY - own.toY) / 2]
  }
}

/** Equal gaps between outlines along an axis; the first and the last stay. */
export function distribute(lamp: Lamp, boards: readonly Board[], axis: 'x' | 'y'): Board[] {
  if (boards.length < 3) return [...boards]
  const spans = boards.map((b) => {
    const box = boxIn(lamp, b)
    return axis === 'x' ? { from: box.fromX, to: box.toX } : { from: box.fromY, to: box.toY }
  })
  const order = boards
    .map((_, i) => i)
    .sort((i, j) => {
      const [a, b] = [spans[i]!, spans[j]!]
      return a.from + a.to - b.from - b.to
    })
  const first = spans[order[0]!]!
  const last = spans[order[order.length - 1]!]!
  const filled = spans.reduce((sum, s) => sum + s.to - s.from, 0)
  const gap = (last.to - first.from - filled) / (boards.length - 1)
  const shift = new Array<number>(boards.length).fill(0)
  let at = first.from
  for (const i of order) {
    const { from, to } = spans[i]!
    shift[i] = at - from
    at += to - from + gap
  }
  return boards.map((b, i) => {
    const by = shift[i]!
    return axis === 'x' ? moveBoard(b, by, 0) : moveBoard(b, 0, by)
  })
}

/**
 * The mirror image of the boards' places and turns, across the line x = at ('x') or y = at ('y'). A real board
 * can't be turned over: one whose emitters aren't symmetric keeps its handedness.
 */
export function mirror(boards: readonly Board[], across: 'x' | 'y', atMm = 0): Board[] {
  return boards.map((b) =>
    across === 'x'
      ? { ...b, xMm: roundMm(2 * atMm - b.xMm), turnDeg: roundDeg(180 - b.turnDeg), ...wedgeAt(b, (deg) => -deg) }
      : { ...b, yMm: roundMm(2 * atMm - b.yMm), turnDeg: roundDeg(-b.turnDeg), ...wedgeAt(b, (deg) => 180 - deg) },
  )
}

/** The board's wedge with its axis in another direction; a mirror image tilts the other way about a mirrored axis. */
const wedgeAt = ({ wedge }: Board, axis: (deg: number) => number): Pick<Board, 'wedge'> =>
  wedge ? { wedge: { ...wedge, axisDeg: roundDeg(axis(wedge.axisDeg)) } } : {}

/** The group turned as one about a point, anticlockwise, wedges and all. */
export function turnGroup(boards: readonly Board[], byDeg: number, aboutXMm: number, aboutYMm: number): Board[] {
  const [c, s] = [Math.cos((byDeg * Math.PI) / 180), Math.sin((byDeg * Math.PI) / 180)]
  return boards.map((b) => {
    const [dx, dy] = [b.xMm - aboutXMm, b.yMm - aboutYMm]
    return {
      ...b,
      xMm: roundMm(aboutXMm + c * dx - s * dy),
      yMm: roundMm(aboutYMm + s * dx + c * dy),
      turnDeg: roundDeg(b.turnDeg + byDeg),
      ...wedgeAt(b, (deg) => deg + byDeg),
    }
  })
}

/** Shifted as one so that their middle (mean of their places) lies on the axis. */
export function centreOnAxis(boards: readonly Board[]): Board[] {
  const n = Math.max(1, boards.length)
  const [x, y] = [boards.reduce((sum, b) => sum + b.xMm, 0) / n, boards.reduce((sum, b) => sum + b.yMm, 0) / n]
  return boards.map((b) => moveBoard(b, -x, -y))
}

/**
 * The boards turned about the axis into each of the other `times` − 1 places around it, with names that `taken` doesn't hold. Boards on the axis
 * itself would lie on themselves: they give none.
 */
export function repeatAboutAxis(boards: readonly Board[], times: number, taken: Iterable<string>): Board[] {
  const around = boards.filter((b) => Math.hypot(b.xMm, b.yMm) > ON_AXIS_MM)
  const turned = Array.from({ length: Math.max(0, Math.floor(times) - 1) }, (_, k) =>
    turnGroup(around, (360 * (k + 1)) / times, 0, 0),
  )
  return copyBoards(turned.flat(), 0, 0, taken)
}

const ON_AXIS_MM = 0.05

/** Copies beside the originals, with names that `taken` doesn't hold. */
export function copyBoards(boards: readonly Board[], dxMm: number, dyMm: number, taken: Iterable<string>): Board[] {
  const names = new Set(taken)
  let next = 1
  return boards.map((b) => {
    while (names.has(`B${next}`)) next++
    names.add(`B${next}`)
    return { ...b, id: `B${next}`, xMm: roundMm(b.xMm + dxMm), yMm: roundMm(b.yMm + dyMm) }
  })
}

const turnedTo = (b: Board, deg: number): Pick<Board, 'turnDeg' | 'wedge'> => ({
  turnDeg: roundDeg(deg),
  ...wedgeAt(b, (axisDeg) => axisDeg + deg - b.turnDeg),
})

export interface RingOptions {
  radiusMm: number
  xMm?: number
  yMm?: number
  /** Where the first board goes. */
  fromDeg?: number
  /** Turn each board with the ring, its own +x outwards. */
  turned?: boolean
}

/** Evenly on a ring, in their order by direction from its centre, dealt out so that all together travel least. */
export function arrangeOnRing(boards: readonly Board[], o: RingOptions): Board[] {
  const [cx, cy] = [o.xMm ?? 0, o.yMm ?? 0]
  const n = boards.length
  const heading = (b: Board) => Math.atan2(b.yMm - cy, b.xMm - cx)
  const order = boards
    .map((board, i) => ({ i, at: heading(board) }))
    .sort((a, b) => a.at - b.at || a.i - b.i)
    .map(({ i }) => i)
  const slots = order.map((_, k) => {
    const deg = (o.fromDeg ?? 0) + (360 * k) / n
    const at = (deg * Math.PI) / 180
    return { deg, xMm: roundMm(cx + o.radiusMm * Math.cos(at)), yMm: roundMm(cy + o.radiusMm * Math.sin(at)) }
  })
  const travel = (shift: number) =>
    order.reduce((sum, i, k) => {
      const [slot, board] = [slots[(k + shift) % n]!, boards[i]!]
      return sum + (slot.xMm - board.xMm) ** 2 + (slot.yMm - board.yMm) ** 2
    }, 0)
  const costs = order.map((_, shift) => travel(shift))
  const least = costs.indexOf(Math.min(...costs))
  const out = [...boards]
  for (const [k, i] of order.entries()) {
    const { deg, xMm, yMm } = slots[(k + least) % n]!
    out[i] = { ...boards[i]!, xMm, yMm, ...(o.turned ? turnedTo(boards[i]!, deg) : {}) }
  }
  return out
}

/** Evenly on the straight line between the two boards farthest apart, which stay; in their order along it. */
export function spreadOnLine(boards: readonly Board[]): Board[] {
  const [from, to] = farthestPair(boards)
  if (from === undefined || to === undefined) return [...boards]
  const [dx, dy] = [to.xMm - from.xMm, to.yMm - from.yMm]
  // The ends come first and last, also where others have the same place.
  const along = (b: Board) =>
    b === from ? -1 : b === to ? 2 : ((b.xMm - from.xMm) * dx + (b.yMm - from.yMm) * dy) / (dx * dx + dy * dy)
  return inOrder(boards, along, (k) => {
    const share = k / (boards.length - 1)
    return { xMm: roundMm(from.xMm + share * dx), yMm: roundMm(from.yMm + share * dy) }
  })
}

/**
 * Evenly on an arc about the axis, at their mean radius: the widest gap between neighbours by direction stays open, the boards at its two sides keep
 * their directions. A board that was turned is not turned again.
 */
export function spreadOnArc(boards: readonly Board[]): Board[] {
  const n = boards.length
  if (n < 3) return [...boards]
  const radiusMm = boards.reduce((sum, b) => sum + Math.hypot(b.xMm, b.yMm), 0) / n
  const headings = boards.map((b) => Math.atan2(b.yMm, b.xMm)).sort((a, b) => a - b)
  let [first, gap] = [0, -1]
  for (const [k, heading] of headings.entries()) {
    const open = modulo(heading - (headings[(k + n - 1) % n] ?? heading), 2 * Math.PI)
    if (open > gap) [first, gap] = [heading, open]
  }
  // A hair below the first is the first, not the last.
  const past = (b: Board) => modulo(Math.atan2(b.yMm, b.xMm) - first + 1e-9, 2 * Math.PI)
  return inOrder(boards, past, (k) => {
    const at = first + ((2 * Math.PI - gap) * k) / (n - 1)
    return { xMm: roundMm(radiusMm * Math.cos(at)), yMm: roundMm(radiusMm * Math.sin(at)) }
  })
}

const modulo = (v: number, by: number) => ((v % by) + by) % by

/** The boards at the k-th place by their key, each in its own place of the list. */
function inOrder(
  boards: readonly Board[],
  key: (b: Board) => number,
  place: (k: number) => Pick<Board, 'xMm' | 'yMm'>,
): Board[] {
  const ranks = new Map([...boards].sort((a, b) => key(a) - key(b)).map((b, k) => [b, k]))
  return boards.map((b) => ({ ...b, ...place(ranks.get(b) ?? 0) }))
}

/** None where all boards have one place. */
function farthestPair(boards: readonly Board[]): [Board, Board] | [] {
  let pair: [Board, Board] | [] = []
  let farthest = 0
  for (const [i, a] of boards.entries())
    for (const b of boards.slice(i + 1)) {
      const mm = Math.hypot(a.xMm - b.xMm, a.yMm - b.yMm)
      if (mm > farthest) [pair, farthest] = [[a, b], mm]
    }
  return pair
}
