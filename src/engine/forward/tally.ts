// Where the kernel writes: one batch's buffer, by the layout that run shares with every engine.
import { DX, DY, DZ, LOSS, LUM, RISER, W, WAVELENGTH, X, Y, Z } from '../../optics/records.ts'
import { shareOfTurn } from '../../optics/turn.ts'
import { tallyLayout } from '../../run/layout.ts'
import { EXIT_STRIDE, type TallyShape } from '../../run/types.ts'
import type { ChunkBuffers } from './sparseTally.ts'

/** Light that runs along the target's plane, or away from it, does not come to it. */
const LEAST_DZ = 1e-6

export interface Tally {
  /** Keep an exit record of the ray now traced. */
  record: boolean
  recordEntry: boolean
  /** Write into these. */
  begin(buffers: ChunkBuffers): void
  /** The ray is emitted. */
  emit(ray: Float64Array): void
  /** The ray's LOSS slot onto a line. */
  book(ray: Float64Array, line: number): void
  /** The same onto a line of the parts (run/parts.ts): of assembled lamps. */
  bookPart(ray: Float64Array, part: number): void
  deliver(ray: Float64Array, line: number): void
  /** Sun: the ray has come in through the lens. */
  enter(ray: Float64Array): void
  onLens(ray: Float64Array): void
  /**
   * The same on a piece of an assembled lamp whose middle lies there from where the ray's x and y are counted. `map`: 0 that of the lens, from 1 on
   * those of the other elements.
   */
  onPiece(ray: Float64Array, map: number, midX: number, midY: number): void
  onWall(ray: Float64Array): void
  /** On an assembled tunnel, at these shares of its unrolled length and of its way round. */
  onUnrolled(ray: Float64Array, along: number, round: number): void
  onFace(ray: Float64Array): void
  /** The records made since `begin`, until any tally of this thread begins again. */
  exits(): Float32Array
}

/** Of whichever tally is written to: one chunk is traced at a time. */
let exits = new Float32Array(0)
const FIRST_EXITS = 256

export function makeTally(shape: TallyShape): Tally {
  const at = tallyLayout(shape)
  const { fineHalfRad, fineBins, coarseBins, windowN, sphereGamma, sphereC } = shape
  const finePerRad = fineBins / fineHalfRad
  const coarsePerRad = coarseBins / (Math.PI - fineHalfRad)
  const windowPerRad = windowN / (2 * fineHalfRad)
  const gammaPerRad = sphereGamma / Math.PI
  const axialSin = Math.sin(shape.axialConeHalfRad)
  const { lens, wall, face, target } = shape
  const { n: targetN, zMm: targetZ, halfXMm, halfYMm } = target
  const targetPerX = targetN / (2 * halfXMm)
  const targetPerY = targetN / (2 * halfYMm)
  const centreSquare = target.centreMm ** 2
  const lensPerMm = lens ? lens.n / (2 * lens.halfMm) : 0
  const alongPerMm = wall ? wall.nAlong / (wall.zOutMm - wall.zInMm) : 0
  const facePerMm = face.n / (2 * face.halfMm)
  const sphereAt = at.sphereLm - at.windowLm
  const lensAt = at.lensW - at.windowLm
  const wallAt = at.wallW - at.windowLm
  const faceAt = at.faceW - at.windowLm
  const pieces = pieceMaps(shape)
  let sums: Float64Array = new Float64Array(0)
  let maps: Float32Array = new Float32Array(0)
  let touched: Uint32Array = new Uint32Array(0)
  let used = 0

  function addMap(cell: number, more: number): void {
    maps[cell]! += more
    touched[cell >> 5]! |= 1 << (cell & 31)
  }

  function keep(ray: Float64Array): void {
    if (used + EXIT_STRIDE > exits.length) {
      const more = new Float32Array(Math.max(FIRST_EXITS * EXIT_STRIDE, exits.length * 2))
      more.set(exits)
      exits = more
    }
    exits[used] = ray[X]!
    exits[used + 1] = ray[Y]!
    exits[used + 2] = ray[Z]!
    exits[used + 3] = ray[DX]!
    exits[used + 4] = ray[DY]!
    exits[used + 5] = ray[DZ]!
    exits[used + 6] = ray[W]!
    exits[used + 7] = ray[W]! * ray[LUM]!
    exits[used + 8] = ray[WAVELENGTH]!
    used += EXIT_STRIDE
  }

  function onTarget(ray: Float64Array, lm: number): void {
    const ahead = (targetZ - ray[Z]!) / ray[DZ]!
    const x = ray[X]! + ahead * ray[DX]!
    const y = ray[Y]! + ahead * ray[DY]!
    const u = (x + halfXMm) * targetPerX
    const v = (y + halfYMm) * targetPerY
    if (!(u >= 0 && v >= 0 && u < targetN && v < targetN)) return
    sums[at.targetLm + (v | 0) * targetN + (u | 0)]! += lm
    // The disc lies on the target.
    if (x * x + y * y <= centreSquare) sums[at.targetCentreLm]! += lm
  }

  const tally: Tally = {
    record: false,
    recordEntry: false,
    begin(into) {
      sums = into.sums
      maps = into.maps
      touched = into.touched
      used = 0
    },
    emit(ray) {
      sums[at.emitted]! += 1
      sums[at.emitted + 1]! += ray[LUM]!
    },
    book(ray, line) {
      const w = ray[LOSS]!
      sums[at.fateW + line]! += w
      sums[at.fateLm + line]! += w * ray[LUM]!
    },
    bookPart(ray, part) {
      const w = ray[LOSS]!
      sums[at.partsW + part]! += w
      sums[at.partsLm + part]! += w * ray[LUM]!
    },
    deliver(ray, line) {
      const w = ray[W]!
      const lm = w * ray[LUM]!
      sums[at.fateW + line]! += w
      sums[at.fateLm + line]! += lm
      const dx = ray[DX]!
      const dy = ray[DY]!
      const dz = ray[DZ]!
      const sin2 = dx * dx + dy * dy
      const sin = Math.sqrt(sin2)
      // θ / sinθ by the arcsine's series near the axis, where acos would lose digits
      const near = sin2 < 0.04
      const scale = near
        ? 1 + sin2 * (1 / 6 + sin2 * (3 / 40 + sin2 * (5 / 112 + sin2 * (35 / 1152))))
        : Math.acos(Math.max(-1, dz)) / Math.max(sin, 1e-12)
      const theta = sin * scale
      if (sin < axialSin) sums[at.axialLm]! += lm
      let bin: number
      if (theta < fineHalfRad) bin = (theta * finePerRad) | 0
      else {
        bin = fineBins + Math.min(coarseBins - 1, ((theta - fineHalfRad) * coarsePerRad) | 0)
        const gamma = Math.min(sphereGamma - 1, (theta * gammaPerRad) | 0)
        addMap(sphereAt + gamma * sphereC + Math.min(sphereC - 1, (shareOfTurn(dx, dy) * sphereC) | 0), lm)
      }
      sums[at.profileLm + bin]! += lm
      if (ray[RISER]! > 0) sums[at.profileRiserLm + bin]! += lm
      const u = (dx * scale + fineHalfRad) * windowPerRad
      const v = (dy * scale + fineHalfRad) * windowPerRad
      if (u >= 0 && v >= 0 && u < windowN && v < windowN) addMap((v | 0) * windowN + (u | 0), lm)
      if (dz > LEAST_DZ) onTarget(ray, lm)
      if (tally.record) keep(ray)
    },
    enter(ray) {
      if (tally.recordEntry) keep(ray)
    },
    onLens(ray) {
      if (!lens) return
      const u = (ray[X]! + lens.halfMm) * lensPerMm
      const v = (ray[Y]! + lens.halfMm) * lensPerMm
      if (u >= 0 && v >= 0 && u < lens.n && v < lens.n) addMap(lensAt + (v | 0) * lens.n + (u | 0), ray[W]!)
    },
    onPiece(ray, map, midX, midY) {
      const piece = pieces[map]
      if (!piece) return
      const { n, halfMm, perMm, at } = piece
      const u = (ray[X]! - midX + halfMm) * perMm
      const v = (ray[Y]! - midY + halfMm) * perMm
      if (u >= 0 && v >= 0 && u < n && v < n) addMap(at + (v | 0) * n + (u | 0), ray[W]!)
    },
    onWall(ray) {
      if (!wall) return
      const round = Math.min(wall.nRound - 1, (shareOfTurn(ray[X]!, ray[Y]!) * wall.nRound) | 0)
      const along = Math.min(wall.nAlong - 1, Math.max(0, ((ray[Z]! - wall.zInMm) * alongPerMm) | 0))
      addMap(wallAt + along * wall.nRound + round, ray[W]!)
    },
    onUnrolled(ray, along, round) {
      if (!wall) return
      const row = Math.min(wall.nAlong - 1, Math.max(0, (along * wall.nAlong) | 0))
      const column = Math.min(wall.nRound - 1, (round * wall.nRound) | 0)
      addMap(wallAt + row * wall.nRound + column, ray[W]!)
    },
    onFace(ray) {
      const u = (ray[X]! + face.halfMm) * facePerMm
      const v = (ray[Y]! + face.halfMm) * facePerMm
      if (u >= 0 && v >= 0 && u < face.n && v < face.n) addMap(faceAt + (v | 0) * face.n + (u | 0), ray[W]!)
    },
    exits: () => exits.subarray(0, used),
  }
  return tally
}

/** The lens's map, which may be none, and those of the other elements. */
function pieceMaps(shape: TallyShape) {
  const { lens, elements } = shape
  const { windowLm, lensW, elementsW } = tallyLayout(shape)
  const map = (n: number, halfMm: number, at: number) => ({ n, halfMm, perMm: n / (2 * halfMm), at: at - windowLm })
  const others = elements?.maps.map(({ halfMm }, i) => map(elements.n, halfMm, elementsW + i * elements.n ** 2)) ?? []
  return [lens ? map(lens.n, lens.halfMm, lensW) : null, ...others]
}
