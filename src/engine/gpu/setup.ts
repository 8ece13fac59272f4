// What the shader reads besides the scene: where its arrays begin, the layout of the tally, the bins. One list of fields, of which both
// the packing here and the struct in shaders/lib/setup.wgsl are made.
import * as BOARD from '../../optics/boardRow.ts'
import * as ELEMENT from '../../optics/elementRow.ts'
import * as P from '../../optics/params.ts'
import { tallyLayout } from '../../run/layout.ts'
import { partCount } from '../../run/parts.ts'
import type { TallyShape } from '../../run/types.ts'
import type { Scene } from '../../scene/scene.ts'
import { sidesOf } from './assemblyTables.ts'

/** Beginnings in `tables` (single numbers), in `quads` (vectors of four) and in `pairs`; those of an assembly mean nothing in a plain lamp. */
export const TABLE_FIELDS = [
  'kindsAt',
  'profilesAt',
  'sidesAt',
  'faceCornersAt',
  'kindQuadsAt',
  'emissionQuadsAt',
  'colourQuadsAt',
  'ringQuadsAt',
  'framesAt',
  'stretchQuadsAt',
  'indexPairsAt',
  'boardsAt',
] as const
/** Where each begins. */
export type TableStarts = Record<(typeof TABLE_FIELDS)[number], number>
/** Whole numbers of the scene, beginnings in the tally, and numbers of bins. */
export const COUNT_FIELDS = [
  'emitters',
  'sides',
  'rings',
  'boards',
  'fateLm',
  'emitted',
  'axialLm',
  'targetCentreLm',
  'profileLm',
  'targetLm',
  'profileRiserLm',
  'windowLm',
  'sphereLm',
  'lensW',
  'wallW',
  'faceW',
  'elementsW',
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
  'elementN',
  'targetN',
  'elements',
  'stretches',
  'partsW',
  'parts',
] as const
export const SCALE_FIELDS = [
  'perPitch',
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
  'targetZMm',
  'targetHalfXMm',
  'targetHalfYMm',
  'targetPerXMm',
  'targetPerYMm',
  'targetCentreMm',
] as const
/** Per dispatch: rays [start, end) of every batch, of a chunk that began at `begin` and goes on after this dispatch or doesn't. */
export const CHUNK_FIELDS = [
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

export function packSetup(scene: Scene, shape: TallyShape, starts: TableStarts): ArrayBuffer {
  const buffer = new ArrayBuffer(4 * SETUP_WORDS)
  const words = new Uint32Array(buffer)
  const floats = new Float32Array(buffer)
  const layout = tallyLayout(shape)
  if (layout.fateW !== 0) throw new Error('gpu: the shader takes a line for its place in the tally')
  const { lens, wall, face, target } = shape
  const counts: Record<(typeof COUNT_FIELDS)[number], number> = {
    ...layout,
    emitters: scene.params[P.emitters]!,
    sides: sidesOf(scene),
    rings: scene.params[P.lensRings]!,
    boards: scene.boards.length / BOARD.size,
    fineBins: shape.fineBins,
    coarseBins: shape.coarseBins,
    windowN: shape.windowN,
    sphereGamma: shape.sphereGamma,
    sphereC: shape.sphereC,
    lensN: lens?.n ?? 0,
    wallAlong: wall?.nAlong ?? 0,
    wallRound: wall?.nRound ?? 0,
    faceN: face.n,
    elementN: shape.elements?.n ?? 0,
    targetN: target.n,
    // Those of the scene: the sun's leaves out a pane that it passes by, whose lines in the ledger stay.
    elements: (scene.assembly?.elements.length ?? 0) / ELEMENT.size,
    stretches: shape.parts?.stretches ?? 0,
    parts: partCount(shape.parts),
  }
  const scales: Record<(typeof SCALE_FIELDS)[number], number> = {
    fineHalfRad: shape.fineHalfRad,
    finePerRad: shape.fineBins / shape.fineHalfRad,
    coarsePerRad: shape.coarseBins / (Math.PI - shape.fineHalfRad),
    windowPerRad: shape.windowN / (2 * shape.fineHalfRad),
    gammaPerRad: shape.sphereGamma / Math.PI,
    axialSin: Math.sin(shape.axialConeHalfRad),
    perPitch: scene.params[P.lensPitch]! > 0 ? 1 / scene.params[P.lensPitch]! : 0,
    lensHalfMm: lens?.halfMm ?? 0,
    lensPerMm: lens ? lens.n / (2 * lens.halfMm) : 0,
    wallZInMm: wall?.zInMm ?? 0,
    wallPerMm: wall ? wall.nAlong / (wall.zOutMm - wall.zInMm) : 0,
    faceHalfMm: face.halfMm,
    facePerMm: face.n / (2 * face.halfMm),
    targetZMm: target.zMm,
    targetHalfXMm: target.halfXMm,
    targetHalfYMm: target.halfYMm,
    targetPerXMm: target.n / (2 * target.halfXMm),
    targetPerYMm: target.n / (2 * target.halfYMm),
    targetCentreMm: target.centreMm,
  }
  floats.set(scene.params.subarray(0, P.size), 0)
  let at = 4 * PARAM_VECTORS
  for (const name of TABLE_FIELDS) words[at++] = starts[name]
  for (const name of COUNT_FIELDS) words[at++] = counts[name]
  for (const name of SCALE_FIELDS) floats[at++] = scales[name]
  return buffer
}

export function packChunk(values: Record<(typeof CHUNK_FIELDS)[number], number>): Uint32Array<ArrayBuffer> {
  return Uint32Array.from(CHUNK_FIELDS, (name) => values[name])
}
