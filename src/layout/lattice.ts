// Regular coverings of the plane by one board type, seen through the window of the face: which offset and turn holds most?
import { faceAreaMm2 } from '../lamp/facePlate.ts'
import type { BoardType } from '../lamp/schema.ts'
import { type FillArea, isDisc, type Pose, SLACK_MM } from './fillArea.ts'
import { outlineShape } from './outline.ts'
import { gapBetween, mapShape, type Shape, shapeBox } from './shape.ts'

export interface Lattice {
  /** Two steps that span it, mm, at turn 0. */
  a: [number, number]
  b: [number, number]
}

/** The closest lattice of its kind in which neighbours keep the clearance, boards unturned against it. */
export function chooseLattice(
  pattern: 'hexagonal' | 'square',
  outline: BoardType['outline'],
  clearanceMm: number,
): Lattice {
  if (outline.shape === 'rectangle') {
    const [w, h] = [outline.widthMm + clearanceMm, outline.heightMm + clearanceMm]
    // Rows shifted by half a board, like bricks.
    return { a: [w, 0], b: [pattern === 'hexagonal' ? w / 2 : 0, h] }
  }
  if (outline.shape === 'polygon') return polygonLattice(pattern, outlineShape(outline), clearanceMm)
  const across = outline.shape === 'disc' ? outline.diameterMm : outline.acrossMm
  const pitch = across + clearanceMm
  if (pattern === 'hexagonal') return { a: [pitch, 0], b: [pitch / 2, (pitch * Math.sqrt(3)) / 2] }
  // A hexagon's corners reach farther up than its flats do sideways.
  const high = outline.shape === 'hexagon' ? (across * 2) / Math.sqrt(3) + clearanceMm : pitch
  return { a: [pitch, 0], b: [0, high] }
}

const SEARCH_STEPS = 96

/** The same for an outline of its own: neighbours in a row as close as it allows, rows straight or shifted by half, and as close. */
function polygonLattice(pattern: 'hexagonal' | 'square', shape: Shape, clearanceMm: number): Lattice {
  const box = shapeBox(shape)
  const isFree = (x: number, y: number) =>
    gapBetween(
      shape,
      mapShape(shape, (px, py) => [px + x, py + y]),
    ).gapMm >=
    clearanceMm - SLACK_MM / 2
  const wide = box.toX - box.fromX + clearanceMm
  const high = box.toY - box.fromY + clearanceMm
  const a = leastStep(wide, (x) => isFree(x, 0) && isFree(2 * x, 0))
  const shift = pattern === 'hexagonal' ? a / 2 : 0
  const areRowsFree = (y: number) =>
    [-2, -1, 0, 1].every((k) => isFree(shift + k * a, y)) &&
    [-2, -1, 0, 1, 2].every((k) => isFree(k * a + 2 * shift, 2 * y))
  return { a: [a, 0], b: [shift, leastStep(high, areRowsFree)] }
}

/** From a step that is free downwards to the last one before the first that isn't. */
function leastStep(from: number, isFree: (step: number) => boolean): number {
  let free = from
  let taken = 0
  for (let i = SEARCH_STEPS - 1; i > 0 && taken === 0; i--) {
    const step = (from * i) / SEARCH_STEPS
    if (isFree(step)) free = step
    else taken = step
  }
  for (let i = 0; i < 40; i++) {
    const middle = (free + taken) / 2
    if (isFree(middle)) free = middle
    else taken = middle
  }
  return free
}

/** Offsets as shares of the two steps: the points of symmetry first, then a mesh. */
function offsets(mesh: number): [number, number][] {
  const third = 1 / 3
  const symmetric: [number, number][] = [
    [0, 0],
    [0.5, 0.5],
    [0.5, 0],
    [0, 0.5],
    [third, third],
    [2 * third, 2 * third],
  ]
  const rest = Array.from({ length: mesh * mesh }, (_, i): [number, number] => [
    Math.floor(i / mesh) / mesh,
    (i % mesh) / mesh,
  ])
  return [...symmetric, ...rest]
}

/**
 * Each set of poses that fits, symmetric ones first. `turnDeg` turns lattice and boards together; without it a few turns are
 * tried (for discs only the lattice turns: a turned disc gains nothing).
 */
export function* latticeFills(
  area: FillArea,
  lattice: Lattice,
  turnDeg: number | undefined,
  cap: number,
): Generator<Pose[]> {
  const disc = isDisc(area.local)
  const cell = Math.abs(lattice.a[0] * lattice.b[1] - lattice.a[1] * lattice.b[0])
  // A face that holds far more than may be placed is only searched in the middle.
  const windowMm = Math.min(area.reachMm, Math.sqrt((2 * cap * cell) / Math.PI) + Math.sqrt(cell))
  const windowMm2 = Math.PI * windowMm * windowMm
  const long = area.face.shape === 'rectangle' || area.face.shape === 'polygon'
  const many = (long ? Math.min(windowMm2, faceAreaMm2(area.face)) : windowMm2) / cell
  const [mesh, stepDeg] = many > 600 ? [2, 30] : many > 150 ? [4, 15] : [8, 7.5]
  const turns = turnDeg === undefined ? turnsOf(disc ? 60 : 180, stepDeg) : [turnDeg]
  for (const turn of turns) {
    for (const [u, v] of offsets(mesh)) {
      yield latticePoses(lattice, turn, u, v, windowMm)
        .map(([xMm, yMm]) => ({ xMm, yMm, turnDeg: disc ? (turnDeg ?? 0) : turn }))
        .filter((p) => area.fits(p))
    }
  }
}

/** 0 and a right angle first: a builder likes a straight layout. */
const turnsOf = (spanDeg: number, stepDeg: number): number[] => {
  const rest = Array.from({ length: spanDeg / stepDeg }, (_, i) => i * stepDeg).filter((t) => t !== 0 && t !== 90)
  return spanDeg > 90 ? [0, 90, ...rest] : [0, 90 % spanDeg, ...rest.filter((t) => t !== 90 % spanDeg)]
}

function latticePoses({ a, b }: Lattice, turnDeg: number, u: number, v: number, windowMm: number): [number, number][] {
  const turn = (turnDeg * Math.PI) / 180
  const [c, s] = [Math.cos(turn), Math.sin(turn)]
  const rows = Math.ceil(windowMm / b[1]) + 1
  const points: [number, number][] = []
  for (let j = -rows; j <= rows; j++) {
    const y = (j + v) * b[1]
    const half = Math.sqrt(Math.max(0, windowMm ** 2 - y * y))
    const shift = (j + v) * b[0] + u * a[0]
    for (let i = Math.ceil((-half - shift) / a[0]); i * a[0] + shift <= half + 1e-9; i++) {
      const x = i * a[0] + shift
      points.push([c * x - s * y, s * x + c * y])
    }
  }
  return points
}
