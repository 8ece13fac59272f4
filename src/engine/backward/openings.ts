// Where backward rays start: points spread over every surface that light leaves the lamp by, with outward normal and the area that a
// point stands for.
import * as BOARD from '../../optics/boardRow.ts'
import { insideBoard, meetsBoard, UNDER } from '../../optics/boards.ts'
import { coneIn } from '../../optics/cone.ts'
import { draw } from '../../optics/draws.ts'
import { insideFace } from '../../optics/face.ts'
import * as Draw from '../../optics/firstDraws.ts'
import * as FRAME from '../../optics/frameRow.ts'
import * as P from '../../optics/params.ts'
import { DX, DY, DZ, LOSS, NX, NY, NZ, TX, TY, X, Y, Z } from '../../optics/records.ts'
import { turnOf } from '../../optics/turn.ts'
import { sectionAt } from '../../optics/wall.ts'
import type { Scene } from '../../scene/scene.ts'

export interface Opening {
  /** Its area seen from the front, mm². */
  areaMm2: number
  /** Puts the ray on a point of it: place, outward normal (axis slots), and the area that the point stands for (LOSS slot), 0 for none. */
  choose(): void
  /** Whether a forward ray that leaves the chosen point in the ray's direction is out of the lamp by that. */
  leaves?(): boolean
}

/** The sizes of the opening, for either engine. */
export interface OpeningSizes {
  areaMm2: number
  /** Half size of the disc, square or polygon that the points are spread over. */
  half: number
  /** Tangent of half a polygon's side, seen from its centre; 0 for a round mouth. */
  sideTan: number
  /** Radius of the last whole ring, mm; the side of its air and the share of the points that stand on it. */
  reach: number
  edgeAreaMm2: number
  edgeShare: number
}

export function openingSizes(p: Float32Array, slant: number): OpeningSizes {
  const kind = p[P.lensKind]!
  const half = p[P.lensHalf]!
  const none = { sideTan: 0, reach: 0, edgeAreaMm2: 0, edgeShare: 0 }
  if (kind === 0) return p[P.hasTunnel]! > 0 ? outletSizes(p) : { ...none, areaMm2: 0, half: 0 }
  const square = p[P.lensSquare]! > 0
  if (kind !== 3 || p[P.lensSign]! < 0)
    return { ...none, areaMm2: square ? 4 * half * half : Math.PI * half * half, half }
  const layer = p[P.lensLayer]!
  const reach = p[P.lensRings]! * p[P.lensPitch]!
  const wide = square ? half + Math.min(2 * layer, half) : half
  const areaMm2 = square ? 4 * wide * wide : Math.PI * half * half
  const edgeAreaMm2 = square || reach > half * (1 + 1e-6) ? 0 : 2 * Math.PI * reach * layer
  const edgeShare = (edgeAreaMm2 * slant) / (edgeAreaMm2 * slant + areaMm2)
  return { ...none, areaMm2, half: wide, reach, edgeAreaMm2, edgeShare }
}

/** Of a tunnel's outlet, round or a polygon. `p`: parameters, or a stretch's row. */
export function outletSizes(p: Float32Array): OpeningSizes {
  const sides = p[P.sides]!
  const half = sectionAt(p, p[P.zOut]!)
  const sideTan = sides > 0 ? Math.tan(Math.PI / sides) : 0
  const areaMm2 = sides === 0 ? Math.PI * half * half : sides * half * half * sideTan
  return { areaMm2, half, sideTan, reach: 0, edgeAreaMm2: 0, edgeShare: 0 }
}

/** `slant`: sine of the steepest angle to the axis that the light of interest has, roughly; how often the edge of the grooves is sampled. */
export function makeOpening(
  scene: Scene,
  ray: Float64Array,
  stream: Int32Array,
  first: Float64Array,
  slant: number,
): Opening {
  const { params: p, frames } = scene
  const kind = p[P.lensKind]!
  const half = p[P.lensHalf]!
  const sign = p[P.lensSign]!
  const sizes = openingSizes(p, slant)
  if (kind === 0 && p[P.hasTunnel] === 0 && frames.length > 0) return surfaces(scene, ray, stream, first)
  if (kind === 0) return mouth(p, sizes, ray, first)
  if (kind === 3 && sign > 0) return grooves(p, sizes, ray, stream, first)
  if (kind === 2 && sign > 0) return conic(p, ray, first)
  const square = p[P.lensSquare]! > 0
  const { areaMm2 } = sizes
  const z = kind === 1 ? p[P.lensZ]! : p[P.lensBack]!
  return {
    areaMm2,
    choose() {
      flat(ray, first, half, square)
      ray[Z] = z
      ray[LOSS] = areaMm2
    },
  }
}

/** A place even over a disc of radius `half`, or over a square or a rectangle of half sizes `half` and `halfY`, mm, and the normal +z. */
export function flat(ray: Float64Array, first: Float64Array, half: number, square: boolean, halfY = half): void {
  const u = first[Draw.pointU]!
  const v = first[Draw.pointV]!
  if (square) {
    ray[X] = (2 * u - 1) * half
    ray[Y] = (2 * v - 1) * halfY
  } else {
    turnOf(ray, v)
    const r = Math.sqrt(u) * half
    ray[X] = r * ray[TX]!
    ray[Y] = r * ray[TY]!
  }
  ray[NX] = 0
  ray[NY] = 0
  ray[NZ] = 1
}

/** The tunnel's outlet, round or a polygon (triangle by triangle about its centre). `p`: as outletSizes has it. */
export function mouth(p: Float32Array, sizes: OpeningSizes, ray: Float64Array, first: Float64Array): Opening {
  const sides = p[P.sides]!
  const z = p[P.zOut]!
  const { areaMm2, half, sideTan: tan } = sizes
  return {
    areaMm2,
    choose() {
      flat(ray, first, half, false)
      if (sides > 0) {
        const along = first[Draw.pointV]! * sides
        const side = Math.min(along | 0, sides - 1)
        const r = Math.sqrt(first[Draw.pointU]!) * half
        const t = r * tan * (2 * (along - side) - 1)
        const phi = (2 * Math.PI * side) / sides
        const cos = Math.cos(phi)
        const sin = Math.sin(phi)
        ray[X] = r * cos - t * sin
        ray[Y] = r * sin + t * cos
      }
      ray[Z] = z
      ray[LOSS] = areaMm2
    },
  }
}

/**
 * Grooves towards the target: the plane of the tips over the rings, the flat rest beyond the last whole ring, and the side of the last
 * ring's air, by which slanting light gets out past the rest. A square lens's light may stray past its edge between valleys and tips.
 */
function grooves(
  p: Float32Array,
  sizes: OpeningSizes,
  ray: Float64Array,
  stream: Int32Array,
  first: Float64Array,
): Opening {
  const half = p[P.lensHalf]!
  const square = p[P.lensSquare]! > 0
  const layer = p[P.lensLayer]!
  const z = p[P.lensZ]!
  const { areaMm2, half: wide, reach, edgeAreaMm2: side, edgeShare: sideShare } = sizes
  return {
    areaMm2,
    choose() {
      if (sideShare > 0 && draw(stream) < sideShare) {
        turnOf(ray, first[Draw.pointV]!)
        ray[NX] = ray[TX]!
        ray[NY] = ray[TY]!
        ray[NZ] = 0
        ray[X] = reach * (1 - 1e-9) * ray[TX]!
        ray[Y] = reach * (1 - 1e-9) * ray[TY]!
        ray[Z] = z + first[Draw.pointU]! * layer
        ray[LOSS] = side / sideShare
        return
      }
      flat(ray, first, wide, square)
      const x = ray[X]!
      const y = ray[Y]!
      const rest = x * x + y * y >= reach * reach
      ray[Z] = rest ? z : z + layer
      ray[LOSS] = rest && square && (Math.abs(x) > half || Math.abs(y) > half) ? 0 : areaMm2 / (1 - sideShare)
    },
    // From the flat rest inward it is in the air of the last ring before it is out.
    leaves() {
      if (ray[Z]! !== z || !(reach > 0)) return true
      const x = ray[X]!
      const y = ray[Y]!
      const dx = ray[DX]!
      const dy = ray[DY]!
      const sIn = coneIn(dx * dx + dy * dy, x * dx + y * dy, Math.max(x * x + y * y - reach * reach, 0))
      return sIn * ray[DZ]! >= layer
    },
  }
}

/** A curved side towards the target: places even in x and y. */
function conic(p: Float32Array, ray: Float64Array, first: Float64Array): Opening {
  const half = p[P.lensHalf]!
  const c = p[P.lensCurvature]!
  const k = 1 + p[P.lensConic]!
  const areaMm2 = Math.PI * half * half
  return {
    areaMm2,
    choose() {
      flat(ray, first, half, false)
      const x = ray[X]!
      const y = ray[Y]!
      const r2 = x * x + y * y
      const sag = (c * r2) / (1 + Math.sqrt(Math.max(0, 1 - k * c * c * r2)))
      const nz = 1 - c * k * sag
      const length = Math.sqrt(c * c * r2 + nz * nz)
      ray[NX] = (c * x) / length
      ray[NY] = (c * y) / length
      ray[NZ] = nz / length
      ray[Z] = p[P.lensZ]! - sag
      ray[LOSS] = (areaMm2 * length) / nz
    },
  }
}

/** Without tunnel and lens: the face and both sides of the boards that stop light, which send on what tilted emitters shine onto them. */
function surfaces(
  { params: p, boards, faceCorners }: Scene,
  ray: Float64Array,
  stream: Int32Array,
  first: Float64Array,
): Opening {
  const faceShape = p[P.faceShape]!
  const faceHalf = p[P.faceHalf]!
  const faceHalfY = p[P.faceHalfY]!
  const faceReach = faceShape === 2 ? (faceHalf * 2) / Math.sqrt(3) : Math.max(faceHalf, faceHalfY)
  const count = boards.length / BOARD.size
  const squares = Array.from({ length: count }, (_, i) => {
    const at = i * BOARD.size
    return 8 * boards[at + BOARD.halfX]! * boards[at + BOARD.halfY]! // both sides
  })
  const areaMm2 = squares.reduce((sum, a) => sum + a, 4 * faceReach * faceReach)

  function onBoard(at: number, side: number): void {
    const u = (2 * first[Draw.pointU]! - 1) * boards[at + BOARD.halfX]!
    const v = (2 * first[Draw.pointV]! - 1) * boards[at + BOARD.halfY]!
    const m = at + FRAME.rotation
    ray[NX] = side * boards[m + 2]!
    ray[NY] = side * boards[m + 5]!
    ray[NZ] = side * boards[m + 8]!
    ray[X] = boards[m]! * u + boards[m + 1]! * v - UNDER * boards[m + 2]! + boards[at + FRAME.x]!
    ray[Y] = boards[m + 3]! * u + boards[m + 4]! * v - UNDER * boards[m + 5]! + boards[at + FRAME.y]!
    ray[Z] = boards[m + 6]! * u + boards[m + 7]! * v - UNDER * boards[m + 8]! + boards[at + FRAME.z]!
    ray[LOSS] = insideBoard(u, v, boards, at) && ray[Z]! >= 0 ? areaMm2 : 0
  }

  return {
    areaMm2,
    choose() {
      let want = draw(stream) * areaMm2
      for (let i = 0; i < count; i++) {
        if (want < squares[i]!) return onBoard(i * BOARD.size, want < squares[i]! / 2 ? 1 : -1)
        want -= squares[i]!
      }
      flat(ray, first, faceReach, true)
      ray[Z] = 0
      ray[LOSS] = insideFace(ray[X]!, ray[Y]!, faceShape, faceHalf, faceHalfY, faceCorners) ? areaMm2 : 0
    },
    leaves: () => boards.length === 0 || !meetsBoard(ray, p, boards),
  }
}
