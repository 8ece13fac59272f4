// Rows of an assembly: a tunnel's stretches, and the elements in front of it.
import {
  elementsOf,
  isAssembled,
  isRectangle,
  isStraight,
  mappedIndex,
  pieceHalves,
  pieceNearMm,
  type Stretch,
  stretchesOf,
  unroll,
} from '../lamp/assembly.ts'
import { conicSag, rotationOf } from '../lamp/body.ts'
import type { Element, Lamp, SolidLens } from '../lamp/schema.ts'
import { linear } from '../num/interpolate.ts'
import { COVER, DIFFUSER, FRESNEL, IDEAL, SOLID } from '../optics/elementKinds.ts'
import * as ELEMENT from '../optics/elementRow.ts'
import * as P from '../optics/params.ts'
import { NM_COUNT, NM_FIRST, NM_STEP } from '../optics/records.ts'
import * as RING from '../optics/ringRow.ts'
import * as STRETCH from '../optics/stretchRow.ts'
import { RECTANGLE } from '../optics/wall.ts'
import { lensIndexTable, writeCover, writeLens, writePiece } from './lensRows.ts'
import type { Assembly } from './scene.ts'

const RAD = Math.PI / 180
const KINDS = { ideal: IDEAL, solid: SOLID, fresnel: FRESNEL, cover: COVER, diffuser: DIFFUSER } as const

/** The lamp's assembly (mm, rad), or null for one that the plain walk traces. Expects a lamp that `readLamp` accepted. */
export function compileAssembly(lamp: Lamp): Assembly | null {
  return isAssembled(lamp) ? assemblyOf(lamp) : null
}

/** The same of any lamp: also of a plain one, for which it must give the same light. */
export function assemblyOf(lamp: Lamp): Assembly {
  const { tunnel } = lamp
  const stretches = tunnel ? stretchesOf(tunnel) : []
  const sides = tunnel ? (isRectangle(tunnel) ? RECTANGLE : tunnel.sides) : 0
  const elements = elementsOf(lamp)
  const mapped = mappedIndex(elements)
  const out = {
    stretches: stretchRows(stretches, sides),
    elements: new Float32Array(elements.length * ELEMENT.size),
    elementParams: new Float32Array(elements.length * P.size),
    elementIndex: joined(elements.map(lensIndexTable)),
    rings: new Float32Array(0),
  }
  const rings: Float32Array[] = []
  let ringsAt = 0
  for (const [i, element] of elements.entries()) {
    const params = out.elementParams.subarray(i * P.size, (i + 1) * P.size)
    const own = writeElement(params, element)
    const row = elementRow(element, params)
    row[ELEMENT.ringsAt] = ringsAt
    row[ELEMENT.map] = i === mapped ? 0 : i < mapped ? i + 1 : i
    const { xMm, yMm } = pieceHalves(element)
    row[ELEMENT.mapHalf] = Math.max(xMm, yMm)
    out.elements.set(row, i * ELEMENT.size)
    rings.push(own)
    ringsAt += own.length
  }
  return { ...out, rings: joined(rings) }
}

function stretchRows(stretches: readonly Stretch[], sides: number): Float32Array {
  const rows = stretches.map((stretch) => stretchRow(stretch, sides))
  for (const { step, stretch, fromShare, toShare } of unroll(stretches).parts) {
    const row = rows[stretch]
    if (!row) continue
    row[step ? STRETCH.stepMapAt : STRETCH.mapAt] = fromShare
    row[step ? STRETCH.stepMapShare : STRETCH.mapShare] = toShare - fromShare
    if (!step) row[STRETCH.stepMapAt] = toShare
  }
  return joined(rows)
}

function stretchRow(s: Stretch, sides: number): Float32Array {
  const row = new Float32Array(STRETCH.size)
  const long = s.zOutMm - s.zInMm
  row[STRETCH.sides] = sides
  row[STRETCH.zIn] = s.zInMm
  row[STRETCH.zOut] = s.zOutMm
  row[STRETCH.rIn] = s.inMm / 2
  row[STRETCH.tanFlare] = (s.outMm - s.inMm) / 2 / long
  row[STRETCH.wallRho] = s.reflectance
  row[STRETCH.wallSpecular] = s.specularShare
  row[STRETCH.wallScatter] = s.scatterDeg * RAD
  row[STRETCH.halfYIn] = s.inHeightMm / 2
  row[STRETCH.tanFlareY] = (s.outHeightMm - s.inHeightMm) / 2 / long
  if (!s.reflectanceByNm) return row
  const nms = s.reflectanceByNm.map((r) => r.nm)
  const values = s.reflectanceByNm.map((r) => r.reflectance)
  row[STRETCH.rhoVaries] = 1
  for (let i = 0; i < NM_COUNT; i++) row[STRETCH.rhoTable + i] = linear(nms, values, NM_FIRST + NM_STEP * i)
  return row
}

/** Body and outline in the element's own frame, whose origin lies on the plane of its zMm; gives its ring records. */
function writeElement(params: Float32Array, element: Element): Float32Array {
  const own = { ...element, zMm: 0 }
  let rings: Float32Array = new Float32Array(RING.size)
  params[P.lensSign] = 1
  if (own.kind === 'cover') writeCover(params, own)
  else if (own.kind !== 'diffuser') rings = writeLens(params, own)
  writePiece(params, element)
  params[P.lensKind] = KINDS[element.kind]
  return rings
}

function elementRow(element: Element, params: Float32Array): Float32Array {
  const row = new Float32Array(ELEMENT.size)
  row[ELEMENT.kind] = KINDS[element.kind]
  row[ELEMENT.x] = element.decentreXMm ?? 0
  row[ELEMENT.y] = element.decentreYMm ?? 0
  row[ELEMENT.z] = element.zMm
  row.set(rotationOf(element), ELEMENT.r00)
  row[ELEMENT.turned] = isStraight({ ...element, decentreXMm: 0, decentreYMm: 0 }) ? 0 : 1
  row[ELEMENT.front] = params[P.lensFront]!
  row[ELEMENT.back] = params[P.lensBack]!
  if (element.kind === 'solid') {
    // A piece beside the axis begins below its vertex: at the nearest point of the piece.
    const sag = nearestSagMm(element)
    if (element.curved === 'target') row[ELEMENT.back] = params[P.lensBack]! - sag
    else row[ELEMENT.front] = params[P.lensFront]! + sag
  }
  row[ELEMENT.surfaceRho] = element.kind === 'cover' ? (element.surfaceReflectance ?? -1) : -1
  if (element.kind === 'diffuser') {
    row[ELEMENT.spread] = element.spreadDeg * RAD
    row[ELEMENT.transmits] = element.transmittance
    row[ELEMENT.reflects] = element.reflectance
  }
  return row
}

/** Sag of the curved side at the point of the piece that lies nearest to the optical axis, mm. */
function nearestSagMm(lens: SolidLens): number {
  const r = pieceNearMm(lens)
  return r > 0 ? conicSag(r, lens.radiusMm, lens.conic) : 0
}

function joined(parts: readonly Float32Array[]): Float32Array {
  const out = new Float32Array(parts.reduce((sum, p) => sum + p.length, 0))
  let at = 0
  for (const part of parts) {
    out.set(part, at)
    at += part.length
  }
  return out
}
