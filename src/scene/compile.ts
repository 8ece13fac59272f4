// From the design document to flat arrays: the one place where degrees become radians and types become numbers.
import { elementsOf, isRectangle, pieceHalves } from '../lamp/assembly.ts'
import { coversPiece, elementSpan, normalOf } from '../lamp/body.ts'
import { faceHeightMm, faceReachMm } from '../lamp/facePlate.ts'
import { placeEmitters } from '../lamp/place.ts'
import type { Element, EmitterRays, EmitterType, Lamp, OpticType } from '../lamp/schema.ts'
import { emitterEfficacy } from '../library/emitterSpectrum.ts'
import { LM_PER_W, PHOTOPIC_5NM } from '../library/photopic.ts'
import { luminousEfficacy, spectrumEfficacy, spectrumPower, sunPower } from '../library/spectra.ts'
import { SUN_LIMB } from '../library/sunDisc.ts'
import { aliasTable } from '../num/alias.ts'
import { distanceToEdges, farthest, isInPolygon } from '../num/polygon.ts'
import * as ELEMENT from '../optics/elementRow.ts'
import * as E from '../optics/emitterRow.ts'
import * as KIND from '../optics/kindRow.ts'
import * as P from '../optics/params.ts'
import { BY_RAYS } from '../optics/rayTable.ts'
import { NM_COUNT, NM_FIRST, NM_STEP, QUANTILES } from '../optics/records.ts'
import { compileAssembly } from './assemblyRows.ts'
import { emitterFrames, stoppingBoards } from './boardRows.ts'
import { lensIndexTable, writeLens } from './lensRows.ts'
import { packCollimator, packProfile } from './profileRows.ts'
import { packRays } from './rayRows.ts'
import type { Assembly, OperatingPoint, Scene } from './scene.ts'

const RAD = Math.PI / 180
const FACE_SHAPES = { round: 0, square: 1, hexagon: 2, rectangle: 3, polygon: 4 } as const

/**
 * The lamp as flat arrays for the tracers; lengths mm, angles rad, fluxes lm and W. `at.fluxLm` holds one value an
 * emitter, in placeEmitters order.
 * Expects a lamp that `readLamp` accepted; throws on an unknown id. Radiant flux by Φ_e = Φ_v / efficacy of the
 * spectrum (CIE, K_m = 683.002 lm/W).
 */
export function compile(lamp: Lamp, at: OperatingPoint): Scene {
  const params = new Float32Array(P.size)
  const assembly = compileAssembly(lamp)
  const rings = writeLens(params, lamp.lens)
  const faceCorners = writeFace(params, lamp.face)
  writeTunnel(params, lamp)
  if (assembly) writeOutermost(params, lamp)
  const sources = compileSources(lamp, at)
  params[P.emitters] = sources.emitters.length / E.size
  if (holdsRays(sources.kinds)) params[P.byRays] = 1
  return {
    params,
    rings,
    faceCorners,
    ...sources,
    boards: stoppingBoards(lamp),
    lensIndex: lensIndexTable(lamp.lens),
    lumPerWatt: Float32Array.from(PHOTOPIC_5NM, (v) => LM_PER_W * v),
    assembly,
  }
}

/** Writes the face's part of `params` and returns a polygon's corners. */
function writeFace(params: Float32Array, face: Lamp['face']): Float32Array {
  params[P.faceShape] = FACE_SHAPES[face.shape]
  params[P.faceHalf] = face.sizeMm / 2
  params[P.faceRho] = face.reflectance
  params[P.faceHalfY] = faceHeightMm(face) / 2
  if (face.shape !== 'polygon') return new Float32Array(0)
  const corners = Float32Array.from((face.corners ?? []).flat())
  // A hair wider and narrower than the corners in single precision: what lies between the radii is held against the edges.
  const rounded = Array.from({ length: corners.length / 2 }, (_, i) => [corners[2 * i]!, corners[2 * i + 1]!] as const)
  params[P.faceHalf] = farthest(rounded) * (1 + 1e-6)
  params[P.faceHalfY] = isInPolygon(rounded, 0, 0) ? distanceToEdges(rounded, 0, 0) * (1 - 1e-6) : 0
  params[P.faceCorners] = rounded.length
  return corners
}

function writeTunnel(params: Float32Array, lamp: Lamp): void {
  const t = lamp.tunnel
  if (!t) return
  params[P.hasTunnel] = 1
  params[P.sides] = t.sides
  params[P.zIn] = t.zInMm
  params[P.zOut] = t.zOutMm
  params[P.rIn] = t.inMm / 2
  params[P.tanFlare] = (t.outMm - t.inMm) / 2 / (t.zOutMm - t.zInMm)
  params[P.wallRho] = t.reflectance
  params[P.wallSpecular] = t.specularShare
  params[P.wallScatter] = t.scatterDeg * RAD
}

/** What readers of an assembled scene ask of its elements as a whole: whether there are any, and between which heights they stand. */
function writeOutermost(params: Float32Array, lamp: Lamp): void {
  const elements = elementsOf(lamp)
  params[P.lensKind] = elements.length > 0 ? 1 : 0
  if (elements.length === 0) return
  const spans = elements.map(elementSpan)
  params[P.lensFront] = Math.min(...spans.map(([near]) => near))
  params[P.lensBack] = Math.max(...spans.map(([, far]) => far))
}

type Sources = Pick<Scene, 'emitters' | 'frames' | 'kinds' | 'profiles' | 'quantiles' | 'emittedLm' | 'emittedW'>

function compileSources(lamp: Lamp, at: OperatingPoint): Sources {
  const places = placeEmitters(lamp)
  const kindOf = new Map<string, number>()
  const tables: Tables = { parts: [], length: 0, rays: new Map() }
  const kinds: number[][] = []
  const spectra = new Map<string, number>()
  const quantiles: Float32Array[] = []
  const emitters = new Float32Array(Math.max(1, places.length) * E.size)
  // A lamp with one tilted emitter: all stand in frames of their own.
  const frames = emitterFrames(places)
  const framed = frames.length > 0
  const watts = new Float64Array(places.length)
  let emittedLm = 0
  const efficacy = makeEfficacy()
  for (const [i, place] of places.entries()) {
    const { emitter, optic } = place
    const spectrumKey = JSON.stringify(emitter.spectrum)
    if (!spectra.has(spectrumKey)) {
      spectra.set(spectrumKey, quantiles.length * (QUANTILES + 1))
      quantiles.push(
        spectrumQuantiles(
          emitter.spectrum.kind === 'mono' ? emitter.spectrum.wavelengthNm : spectrumPower(emitter.spectrum),
        ),
      )
    }
    const key = `${emitter.id}\n${optic.id}`
    if (!kindOf.has(key)) {
      kindOf.set(key, kinds.length)
      kinds.push(kindRecord(emitter, optic, spectra.get(spectrumKey)!, tables))
    }
    const turn = place.turnDeg * RAD
    const stands = framed ? [0, 0, 1, 0] : [place.xMm, place.yMm, Math.cos(turn), Math.sin(turn)]
    emitters.set([...stands, kindOf.get(key)!, 1, i], i * E.size)
    const fluxLm = at.fluxLm[i]!
    emittedLm += fluxLm
    watts[i] = fluxLm / efficacy(emitter, optic)
  }
  writeAlias(emitters, watts)
  return {
    emitters: places.length > 0 ? emitters : new Float32Array(0),
    frames,
    kinds: Float32Array.from(kinds.flat()),
    profiles: join(tables.parts),
    quantiles: join(quantiles),
    emittedLm,
    emittedW: watts.reduce((sum, w) => sum + w, 0),
  }
}

/** Lumens per watt of the light that is drawn: a collimator by data sheet has the emitter's spectrum, whatever its rays have. Once a type. */
function makeEfficacy(): (emitter: EmitterType, optic: OpticType) => number {
  const [bySpectrum, byRays] = [new Map<EmitterType, number>(), new Map<EmitterType, number>()]
  return (emitter, optic) => {
    const known = optic.kind === 'collimator' ? bySpectrum : byRays
    const lmPerW =
      known.get(emitter) ?? (known === byRays ? emitterEfficacy(emitter) : spectrumEfficacy(emitter.spectrum))
    known.set(emitter, lmPerW)
    return lmPerW
  }
}

/** What Scene.profiles is joined of. */
interface Tables {
  parts: Float32Array[]
  length: number
  /** Where the table of an emitter type's rays begins: one for all of its optics. */
  rays: Map<EmitterType, number>
}

/** Appends a table and gives where it begins. */
function append(tables: Tables, part: Float32Array): number {
  const at = tables.length
  tables.parts.push(part)
  tables.length += part.length
  return at
}

function raysAt(emitter: EmitterType, rays: EmitterRays, tables: Tables): number {
  const at = tables.rays.get(emitter) ?? append(tables, packRays(rays))
  tables.rays.set(emitter, at)
  return at
}

function holdsRays(kinds: Float32Array): boolean {
  for (let at = 0; at < kinds.length; at += KIND.size) if (kinds[at + KIND.profile] === BY_RAYS) return true
  return false
}

function kindRecord(emitter: EmitterType, optic: OpticType, spectrumAt: number, tables: Tables): number[] {
  const k = new Array<number>(KIND.size).fill(0)
  const profile = optic.kind === 'collimator' ? packCollimator(optic) : packProfile(emitter.profile)
  k[KIND.efficiency] = 1
  k[KIND.z] = emitter.heightMm
  k[KIND.spectrumAt] = spectrumAt
  if (optic.kind === 'collimator') {
    k[KIND.disc] = 1
    k[KIND.halfX] = optic.exitDiameterMm / 2
    k[KIND.z] = optic.heightMm
    k[KIND.efficiency] = optic.efficiency
  } else if (emitter.source.shape === 'disc') {
    k[KIND.disc] = 1
    k[KIND.halfX] = emitter.source.diameterMm / 2
  } else {
    k[KIND.halfX] = emitter.source.widthMm / 2
    k[KIND.halfY] = emitter.source.heightMm / 2
  }
  if (optic.kind === 'reflector') {
    k[KIND.optic] = 1
    k[KIND.cupFocal] = optic.focalMm
    k[KIND.cupExit] = optic.exitDiameterMm
    k[KIND.cupRho] = optic.reflectance
    k[KIND.cupX] = optic.shiftXMm
    k[KIND.cupY] = optic.shiftYMm
    k[KIND.cupZ] = optic.shiftZMm
  }
  if (emitter.rays && optic.kind !== 'collimator') {
    k[KIND.profile] = BY_RAYS
    k[KIND.profileAt] = raysAt(emitter, emitter.rays, tables)
    return k
  }
  k[KIND.profile] = profile.kind
  k[KIND.profileRows] = profile.rows
  if (profile.kind === 0) k[KIND.profileAt] = profile.inverse
  else {
    if (profile.kind === 2) for (let r = 0; r < profile.rows; r++) profile.packed[r * 5 + 1]! += tables.length
    k[KIND.profileAt] = append(tables, profile.packed)
  }
  return k
}

/** Emitters are drawn in proportion to their radiant flux. */
function writeAlias(emitters: Float32Array, watts: Float64Array): void {
  const { share, alias } = aliasTable(watts)
  for (let i = 0; i < watts.length; i++) {
    emitters.set(share.subarray(i, i + 1), i * E.size + E.aliasShare)
    emitters.set(alias.subarray(i, i + 1), i * E.size + E.alias)
  }
}

/**
 * Inverse distribution of a spectrum at QUANTILES + 1 equal steps of radiant power, nm. `power`: relative, linear
 * between the 81 points of the 5 nm grid, not zero everywhere; or one wavelength in nm, which every step then holds.
 */
export function spectrumQuantiles(power: Float64Array | number): Float32Array {
  const out = new Float32Array(QUANTILES + 1)
  if (typeof power === 'number') return out.fill(power)
  const below = new Float64Array(power.length)
  for (let i = 1; i < power.length; i++) below[i] = below[i - 1]! + 0.5 * (power[i]! + power[i - 1]!) * NM_STEP
  const total = below[power.length - 1]!
  let cell = 0
  for (let q = 0; q <= QUANTILES; q++) {
    const want = (total * q) / QUANTILES
    while (cell < power.length - 2 && below[cell + 1]! < want) cell++
    const p0 = power[cell]!
    const p1 = power[cell + 1]!
    const need = want - below[cell]!
    const root = Math.sqrt(Math.max(0, p0 * p0 + (2 * (p1 - p0) * need) / NM_STEP))
    const s = p0 + root > 0 ? (2 * need) / (p0 + root) : 0
    out[q] = NM_FIRST + NM_STEP * cell + Math.min(s, NM_STEP)
  }
  return out
}

function join(parts: readonly Float32Array[]): Float32Array {
  const out = new Float32Array(parts.reduce((sum, p) => sum + p.length, 0))
  let at = 0
  for (const part of parts) {
    out.set(part, at)
    at += part.length
  }
  return out
}

/**
 * The same scene with the sun shining in instead of the emitters: light of a disc of 0.2666° half angle (IAU nominal solar radius over
 * 1 au, rounded up), darker towards its rim by `limb` (0: even), onto the outermost opening, from `tiltDeg` (0 to 89) off the axis towards
 * azimuth `azimuthDeg`.
 * emittedW = irradiance (`lamp.reading.sunWm2`) × area of the opening × cosine to its normal, which of an assembly is that of the last
 * element's piece; none where the sun stands behind it. A cover or a film in front that leaves some of what is behind it bare lets the sun
 * past it, and is left out (the hot side). All of it is carried by the visible
 * band: the hot side, since the lens blurs it less there than over the whole spectrum (our choice).
 */
export function compileSun(scene: Scene, lamp: Lamp, tiltDeg: number, azimuthDeg = 0, limb = SUN_LIMB): Scene {
  const params = scene.params.slice()
  const elements = sunlitElements(lamp)
  const opening = openingOf(scene, lamp, elements.at(-1))
  const { half } = opening
  const cos = opening.normal
    ? opening.normal[0] * Math.sin(tiltDeg * RAD) * Math.cos(azimuthDeg * RAD) +
      opening.normal[1] * Math.sin(tiltDeg * RAD) * Math.sin(azimuthDeg * RAD) +
      opening.normal[2] * Math.cos(tiltDeg * RAD)
    : Math.cos(tiltDeg * RAD)
  params[P.source] = 1
  params[P.sunSinTilt] = Math.sin(tiltDeg * RAD)
  params[P.sunCosTilt] = Math.cos(tiltDeg * RAD)
  params[P.sunAzimuth] = azimuthDeg * RAD
  params[P.sunHalfAngle] = 0.2666 * RAD
  params[P.sunLimb] = limb
  params[P.sunRadius] = half
  params[P.sunHalfY] = opening.halfY
  params[P.sunZ] = opening.z
  params[P.sunSquare] = opening.shape
  const power = sunPower()
  const emittedW = lamp.reading.sunWm2 * opening.areaM2 * Math.max(0, cos)
  return {
    ...scene,
    params,
    assembly: scene.assembly && firstElements(scene.assembly, elements.length),
    quantiles: spectrumQuantiles(power),
    emittedW,
    emittedLm: emittedW * luminousEfficacy(power),
  }
}

function sunlitElements(lamp: Lamp): Element[] {
  const elements: Element[] = elementsOf(lamp)
  for (let front = elements.at(-1); front && elements.length > 1; front = elements.at(-1)) {
    const over = front
    const isPane = over.kind === 'cover' || over.kind === 'diffuser'
    if (!isPane || elements.slice(0, -1).every((under) => coversPiece(over, under))) break
    elements.pop()
  }
  return elements
}

const firstElements = (assembly: Assembly, count: number): Assembly => ({
  ...assembly,
  elements: assembly.elements.subarray(0, count * ELEMENT.size),
  elementParams: assembly.elementParams.subarray(0, count * P.size),
  elementIndex: assembly.elementIndex.subarray(0, count * NM_COUNT),
})

/** The outermost opening: sizes in mm, area in m². `shape` as params.sunSquare; a piece that may stand tilted has a normal. */
interface Opening {
  half: number
  halfY: number
  shape: 0 | 1 | 2
  z: number
  areaM2: number
  normal: readonly [number, number, number] | null
}

function openingOf({ params, assembly }: Scene, lamp: Lamp, outermost: Element | undefined): Opening {
  if (assembly && outermost) {
    const { round, xMm, yMm } = pieceHalves(outermost)
    const areaM2 = (round ? Math.PI : 4) * xMm * yMm * 1e-6
    return { half: xMm, halfY: yMm, shape: round ? 0 : 2, z: params[P.lensBack]!, areaM2, normal: normalOf(outermost) }
  }
  const { tunnel } = lamp
  if (tunnel && isRectangle(tunnel)) {
    const [half, halfY] = [tunnel.outMm / 2, (tunnel.outHeightMm ?? tunnel.outMm) / 2]
    return { half, halfY, shape: 2, z: tunnel.zOutMm, areaM2: 4 * half * halfY * 1e-6, normal: null }
  }
  const half = lamp.lens
    ? lamp.lens.diameterMm / 2
    : tunnel
      ? (tunnel.outMm / 2) * (tunnel.sides === 0 ? 1 : 1 / Math.cos(Math.PI / tunnel.sides))
      : lamp.face.shape === 'square' || lamp.face.shape === 'hexagon'
        ? (lamp.face.sizeMm / 2) * Math.SQRT2
        : faceReachMm(lamp.face)
  const square = lamp.lens?.kind === 'fresnel' && lamp.lens.aperture === 'square'
  const z = lamp.lens ? params[P.lensBack]! : tunnel ? tunnel.zOutMm : 1
  const areaM2 = (square ? 4 : Math.PI) * half * half * 1e-6
  return { half, halfY: half, shape: square ? 1 : 0, z, areaM2, normal: null }
}
