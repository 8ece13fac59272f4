// Where backward rays of an assembled lamp start: on the outer side of the last element, wherever and however its piece stands, or without
// elements in the outlet of the last stretch. As openings.ts, which does it for the plain lamp.
import { coneIn } from '../../optics/cone.ts'
import { draw } from '../../optics/draws.ts'
import { COVER, DIFFUSER, FRESNEL, IDEAL, SOLID } from '../../optics/elementKinds.ts'
import * as ELEMENT from '../../optics/elementRow.ts'
import * as Draw from '../../optics/firstDraws.ts'
import { frameDz, intoFrame, intoLocal, outOfFrame, outOfLocal } from '../../optics/frame.ts'
import { outside } from '../../optics/outline.ts'
import * as P from '../../optics/params.ts'
import { DX, DY, DZ, LOSS, NX, NY, NZ, RAY_SIZE, X, Y, Z } from '../../optics/records.ts'
import * as STRETCH from '../../optics/stretchRow.ts'
import { RECTANGLE } from '../../optics/wall.ts'
import { rowsOf } from '../../scene/assemblyViews.ts'
import type { Assembly } from '../../scene/scene.ts'
import type { Aim } from './aim.ts'
import { flat, mouth, type Opening, outletSizes } from './openings.ts'

export interface AssemblyOpening extends Opening {
  /** Height of the chosen point in the local frame of the last element (frame.ts), mm, exact; of no use without elements. */
  zLocal(): number
}

/** Sizes of what the points of one element's outer side are spread over, local frame. */
interface Outer {
  /** Half sizes of the piece, wider by what may stray beyond its edge between valleys and tips. */
  halfX: number
  halfY: number
  areaMm2: number
  /** Radius of the last whole ring; the side of its air within the azimuths of the piece, and the share of the points that stand on it. */
  reach: number
  sideAreaMm2: number
  sideShare: number
  fromRad: number
  widthRad: number
}

/** Greatest tangent of the angle to a piece's normal at which light that strays past its edge is followed. */
const MOST_LEAN = 8

export function makeAssembledOpening(
  assembly: Assembly,
  ray: Float64Array,
  stream: Int32Array,
  first: Float64Array,
  aim: Aim,
): AssemblyOpening {
  const bodies = rowsOf(assembly.elementParams, P.size)
  const body = bodies.at(-1)
  if (!body) return outlet(assembly, ray, first)
  return outerSide(assembly.elements, (bodies.length - 1) * ELEMENT.size, body, ray, stream, first, aim)
}

/** The outer side of the element in the row at `at`, of which `body` has the rest. */
function outerSide(
  elements: Float32Array,
  at: number,
  body: Float32Array,
  ray: Float64Array,
  stream: Int32Array,
  first: Float64Array,
  aim: Aim,
): AssemblyOpening {
  const kind = elements[at + ELEMENT.kind]!
  const worked = body[P.lensSign]! > 0
  const round = body[P.lensSquare]! > 2
  const grooved = kind === FRESNEL && worked
  const outer = outerOf(body, grooved ? slantTo(aim, elements, at, body) : 0, grooved)
  const { halfX, halfY, areaMm2, reach, sideAreaMm2, sideShare } = outer
  const layer = body[P.lensLayer]!
  const flatZ = kind === COVER || kind === IDEAL || kind === DIFFUSER ? 0 : -body[P.lensThickness]!
  const flatNz = flatZ === 0 ? 1 : -1
  const own = new Float64Array(RAY_SIZE)
  let zLocal = 0
  let onRest = false

  /** A point of the side of the last ring's air; its outward normal into the direction slots. */
  function chooseSide(): void {
    const phi = outer.fromRad + first[Draw.pointV]! * outer.widthRad
    const cos = Math.cos(phi)
    const sin = Math.sin(phi)
    ray[DX] = cos
    ray[DY] = sin
    ray[DZ] = 0
    ray[X] = reach * (1 - 1e-9) * cos
    ray[Y] = reach * (1 - 1e-9) * sin
    ray[Z] = first[Draw.pointU]! * layer
    ray[LOSS] = sideAreaMm2 / sideShare
  }

  /** The plane of the tips over the rings, or the flat rest beyond the last whole one. */
  function chooseGrooves(): void {
    const x = ray[X]!
    const y = ray[Y]!
    onRest = x * x + y * y >= reach * reach
    ray[Z] = onRest ? 0 : layer
    ray[LOSS] = onRest && outside(body, x, y) ? 0 : areaMm2 / (1 - sideShare)
  }

  /** A curved side: places even in x and y. */
  function chooseConic(): void {
    const c = body[P.lensCurvature]!
    const k = 1 + body[P.lensConic]!
    const x = ray[X]!
    const y = ray[Y]!
    const r2 = x * x + y * y
    const sag = (c * r2) / (1 + Math.sqrt(Math.max(0, 1 - k * c * c * r2)))
    const nz = 1 - c * k * sag
    const length = Math.sqrt(c * c * r2 + nz * nz)
    ray[DX] = (c * x) / length
    ray[DY] = (c * y) / length
    ray[DZ] = nz / length
    ray[Z] = -sag
    ray[LOSS] = (areaMm2 * length) / nz
  }

  function chooseLocal(): void {
    onRest = false
    if (sideShare > 0 && draw(stream) < sideShare) {
      chooseSide()
      return
    }
    flat(ray, first, halfX, !round, halfY)
    ray[X]! += body[P.lensMidX]!
    ray[Y]! += body[P.lensMidY]!
    ray[DX] = 0
    ray[DY] = 0
    ray[DZ] = 1
    if (grooved) chooseGrooves()
    else if (kind === SOLID && worked) chooseConic()
    else {
      ray[DZ] = flatNz
      ray[Z] = flatZ
      ray[LOSS] = areaMm2
    }
  }

  return {
    areaMm2,
    choose() {
      chooseLocal()
      zLocal = ray[Z]!
      outOfLocal(ray, body)
      outOfFrame(ray, elements, at)
      ray[NX] = ray[DX]!
      ray[NY] = ray[DY]!
      ray[NZ] = ray[DZ]!
    },
    // Past the piece's plane or out of the lamp; from the flat rest inward it is in the air of the last ring before it is out.
    leaves() {
      if (!(frameDz(ray, elements, at) > 0)) return false
      if (!onRest || !(reach > 0)) return true
      for (let k = X; k <= DZ; k++) own[k] = ray[k]!
      intoFrame(own, elements, at)
      intoLocal(own, body)
      const x = own[X]!
      const y = own[Y]!
      const dx = own[DX]!
      const dy = own[DY]!
      const sIn = coneIn(dx * dx + dy * dy, x * dx + y * dy, Math.max(x * x + y * y - reach * reach, 0))
      return sIn * own[DZ]! >= layer
    },
    zLocal: () => zLocal,
  }
}

function outerOf(body: Float32Array, slant: number, grooved: boolean): Outer {
  const round = body[P.lensSquare]! > 2
  const half = body[P.lensHalf]!
  const halfY = round ? half : body[P.lensHalfY]!
  const [midX, midY] = [body[P.lensMidX]!, body[P.lensMidY]!]
  const off = Math.hypot(midX, midY)
  const area = (x: number, y: number) => (round ? Math.PI : 4) * x * y
  const none = { reach: 0, sideAreaMm2: 0, sideShare: 0, fromRad: 0, widthRad: 2 * Math.PI }
  if (!grooved) return { ...none, halfX: half, halfY, areaMm2: area(half, halfY) }
  const layer = body[P.lensLayer]!
  const reach = body[P.lensRings]! * body[P.lensPitch]!
  // A round piece about the optical axis has no groove beyond its edge. Past others light goes as far as it leans, after a bounce or two.
  const lean = Math.min(MOST_LEAN, slant / Math.sqrt(Math.max(1e-6, 1 - slant * slant)))
  const stray = round && off === 0 ? 0 : layer * (2 + lean)
  const [halfX, wideY] = [half + stray, halfY + stray]
  const areaMm2 = area(halfX, wideY)
  const farthest = round ? off + half : Math.hypot(Math.abs(midX) + half, Math.abs(midY) + halfY)
  const across = round ? halfX : Math.hypot(halfX, wideY)
  const aboutRad = off > across ? Math.asin(across / off) : Math.PI
  const sideAreaMm2 = reach > farthest * (1 + 1e-6) ? 0 : 2 * aboutRad * reach * layer
  const sideShare = (sideAreaMm2 * slant) / (sideAreaMm2 * slant + areaMm2)
  const fromRad = Math.atan2(midY, midX) - aboutRad
  return { halfX, halfY: wideY, areaMm2, reach, sideAreaMm2, sideShare, fromRad, widthRad: 2 * aboutRad }
}

/** Sine of the steepest angle to the element's normal that the aim's light has, roughly: how often the side of its grooves is sampled. */
function slantTo(aim: Aim, elements: Float32Array, at: number, body: Float32Array): number {
  const nz = elements[at + ELEMENT.r22]!
  const tilt = Math.acos(Math.min(1, nz))
  if (aim.kind === 'disc') {
    const x = aim.xMm - elements[at + ELEMENT.x]!
    const y = aim.yMm - elements[at + ELEMENT.y]!
    const z = aim.zMm - elements[at + ELEMENT.z]!
    const ahead = x * elements[at + ELEMENT.r02]! + y * elements[at + ELEMENT.r12]! + z * nz
    const beside = Math.sqrt(Math.max(0, x * x + y * y + z * z - ahead * ahead))
    const across = beside + aim.discMm / 2 + Math.hypot(body[P.lensHalf]!, body[P.lensHalfY]!)
    return ahead > 0 ? across / Math.hypot(across, ahead) : 1
  }
  const steepest = aim.kind === 'band' ? aim.toRad : aim.thetaRad + aim.halfRad
  return Math.sin(Math.min(Math.PI / 2, steepest + tilt))
}

/** The last stretch's outlet. */
function outlet(assembly: Assembly, ray: Float64Array, first: Float64Array): AssemblyOpening {
  const row = rowsOf(assembly.stretches, STRETCH.size).at(-1)
  if (!row) throw new Error('an assembled lamp without tunnel and elements')
  const zLocal = () => 0
  if (row[STRETCH.sides] !== RECTANGLE) return { ...mouth(row, outletSizes(row), ray, first), zLocal }
  const long = row[STRETCH.zOut]! - row[STRETCH.zIn]!
  const halfX = row[STRETCH.rIn]! + long * row[STRETCH.tanFlare]!
  const halfY = row[STRETCH.halfYIn]! + long * row[STRETCH.tanFlareY]!
  const areaMm2 = 4 * halfX * halfY
  return {
    areaMm2,
    zLocal,
    choose() {
      flat(ray, first, halfX, true, halfY)
      ray[Z] = row[STRETCH.zOut]!
      ray[LOSS] = areaMm2
    },
  }
}
