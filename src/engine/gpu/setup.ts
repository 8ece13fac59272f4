// What the shader is told besides the scene: where its arrays begin, the layout of the tally, the bins. One list of fields, of which both
// the packing here and the struct in shaders/lib/setup.wgsl are made.
import * as E from '../../optics/emitterRow.ts'
import * as P from '../../optics/params.ts'
import * as RING from '../../optics/ringRow.ts'
import { tallyLayout } from '../../run/layout.ts'
import type { TallyShape } from '../../run/types.ts'
import type { Scene } from '../../scene/scene.ts'

/** Beginnings in `tables` (single numbers) and in `quads` (vectors of four). */
export const TABLE_FIELDS = ['kindsAt', 'profilesAt', 'sidesAt', 'kindQuadsAt', 'colourQuadsAt', 'ringQuadsAt'] as const
/** Beginnings in the tally, and numbers of bins. */
export const COUNT_FIELDS = [
  'fateLm',
  'emitted',
  'axialLm',
  'profileLm',
  'profileRiserLm',
  'windowLm',
  'sphereLm',
  'lensW',
  'wallW',
  'faceW',
  'size',
  'fineBins',
  'coarseBins',
  'windowN',
  'sphereGamma',
  'sphereC',
  'lensN',
  'wallAlong',
  'wallRound',
  'faceN',
] as const
export const SCALE_FIELDS = [
  'fineHalfRad',
  'finePerRad',
  'coarsePerRad',
  'windowPerRad',
  'gammaPerRad',
  'axialSin',
  'lensHalfMm',
  'lensPerMm',
  'wallZInMm',
  'wallPerMm',
  'faceHalfMm',
  'facePerMm',
] as const
/** Per dispatch: rays [start, end) of every batch, of a stretch that began at `begin` and goes on after this dispatch or doesn't. */
export const STRETCH_FIELDS = [
  'seed',
  'begin',
  'start',
  'end',
  'log2Threads',
  'recordsBelow',
  'recordAll',
  'goesOn',
] as const

/** Parameters, four to a vector. */
export const PARAM_VECTORS = Math.ceil(P.size / 4)
export const SETUP_WORDS =
  4 * Math.ceil((4 * PARAM_VECTORS + TABLE_FIELDS.length + COUNT_FIELDS.length + SCALE_FIELDS.length) / 4)

export interface Tables {
  data: Float32Array<ArrayBuffer>
  /** What every ray looks up, in the vectors that it takes them in: a lane that reads from a place of its own pays by the read. */
  quads: Float32Array<ArrayBuffer>
  /** The quantiles of the spectra, each with the one after it. */
  pairs: Float32Array<ArrayBuffer>
  starts: Record<(typeof TABLE_FIELDS)[number], number>
}

/**
 * The scene's arrays as the shader reads them, every number as it is. Tables: kinds, profiles, the cosine and sine towards each side of a
 * polygon. Quads: the emitters' places, then their kinds and the alias method's rows; the kinds; of each wavelength and the next index and
 * efficacy; of each ring sine, cosine, tip, cotangent.
 */
export function joinTables(scene: Scene): Tables {
  const { params, emitters, kinds, profiles, quantiles, lensIndex, lumPerWatt, rings } = scene
  const sides = params[P.sides]!
  const turns = Float32Array.from({ length: 2 * sides }, (_, i) => {
    const phi = (2 * Math.PI * (i >> 1)) / sides
    return i % 2 === 0 ? Math.cos(phi) : Math.sin(phi)
  })
  const table = joined([kinds, profiles, turns])

  const places = rowsOf(emitters, E.size, [E.x, E.y, E.cos, E.sin])
  const choices = rowsOf(emitters, E.size, [E.kind, E.aliasShare, E.alias, null])
  const colours = new Float32Array(4 * (lensIndex.length - 1))
  for (let i = 0; i < lensIndex.length - 1; i++)
    colours.set([lensIndex[i]!, lensIndex[i + 1]!, lumPerWatt[i]!, lumPerWatt[i + 1]!], 4 * i)
  const ringRows = rowsOf(rings, RING.size, [RING.sin, RING.cos, RING.tip, RING.cot])
  const quad = joined([places, choices, kinds, colours, ringRows])

  const pairs = new Float32Array(2 * quantiles.length)
  for (let i = 0; i < quantiles.length; i++)
    pairs.set([quantiles[i]!, quantiles[Math.min(i + 1, quantiles.length - 1)]!], 2 * i)
  const [kindsAt, profilesAt, sidesAt] = table.starts
  const [, , kindQuads, colourQuads, ringQuads] = quad.starts
  const starts = {
    kindsAt: kindsAt!,
    profilesAt: profilesAt!,
    sidesAt: sidesAt!,
    kindQuadsAt: kindQuads! / 4,
    colourQuadsAt: colourQuads! / 4,
    ringQuadsAt: ringQuads! / 4,
  }
  return { data: table.data, quads: quad.data, pairs, starts }
}

function joined(parts: readonly Float32Array[]): { data: Float32Array<ArrayBuffer>; starts: number[] } {
  const data = new Float32Array(parts.reduce((sum, part) => sum + part.length, 0))
  const starts: number[] = []
  let at = 0
  for (const part of parts) {
    data.set(part, at)
    starts.push(at)
    at += part.length
  }
  return { data, starts }
}

/** Of each row of `size` numbers the four that are named. */
function rowsOf(from: Float32Array, size: number, fields: readonly (number | null)[]): Float32Array {
  const rows = Math.floor(from.length / size)
  const out = new Float32Array(4 * rows)
  for (let row = 0; row < rows; row++)
    for (const [i, field] of fields.entries()) if (field !== null) out[4 * row + i] = from[row * size + field]!
  return out
}

export function packSetup(scene: Scene, shape: TallyShape, starts: Tables['starts']): ArrayBuffer {
  const buffer = new ArrayBuffer(4 * SETUP_WORDS)
  const words = new Uint32Array(buffer)
  const floats = new Float32Array(buffer)
  const layout = tallyLayout(shape)
  if (layout.fateW !== 0) throw new Error('gpu: the shader takes a line for its place in the tally')
  const { lens, wall, face } = shape
  const counts: Record<(typeof COUNT_FIELDS)[number], number> = {
    ...layout,
    fineBins: shape.fineBins,
    coarseBins: shape.coarseBins,
    windowN: shape.windowN,
    sphereGamma: shape.sphereGamma,
    sphereC: shape.sphereC,
    lensN: lens?.n ?? 0,
    wallAlong: wall?.nAlong ?? 0,
    wallRound: wall?.nRound ?? 0,
    faceN: face.n,
  }
  const scales: Record<(typeof SCALE_FIELDS)[number], number> = {
    fineHalfRad: shape.fineHalfRad,
    finePerRad: shape.fineBins / shape.fineHalfRad,
    coarsePerRad: shape.coarseBins / (Math.PI - shape.fineHalfRad),
    windowPerRad: shape.windowN / (2 * shape.fineHalfRad),
    gammaPerRad: shape.sphereGamma / Math.PI,
    axialSin: Math.sin(shape.axialConeHalfRad),
    lensHalfMm: lens?.halfMm ?? 0,
    lensPerMm: lens ? lens.n / (2 * lens.halfMm) : 0,
    wallZInMm: wall?.zInMm ?? 0,
    wallPerMm: wall ? wall.nAlong / (wall.zOutMm - wall.zInMm) : 0,
    faceHalfMm: face.halfMm,
    facePerMm: face.n / (2 * face.halfMm),
  }
  floats.set(scene.params.subarray(0, P.size), 0)
  let at = 4 * PARAM_VECTORS
  for (const name of TABLE_FIELDS) words[at++] = starts[name]
  for (const name of COUNT_FIELDS) words[at++] = counts[name]
  for (const name of SCALE_FIELDS) floats[at++] = scales[name]
  return buffer
}

export function packStretch(values: Record<(typeof STRETCH_FIELDS)[number], number>): Uint32Array<ArrayBuffer> {
  return Uint32Array.from(STRETCH_FIELDS, (name) => values[name])
}
