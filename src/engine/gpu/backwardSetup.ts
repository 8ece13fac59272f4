// What the backward tracer reads besides the scene (setup.ts): the aim, the opening, the emitters' planes and their grids, and
// the wavelengths to draw. One list of fields, of which both the packing here and the struct in shaders/lib/backwardSetup.wgsl are made.
import * as KIND from '../../optics/kindRow.ts'
import type { Scene } from '../../scene/scene.ts'
import type { Aim } from '../backward/aim.ts'
import { directionsOf, slantOf, stepsPerScore } from '../backward/estimator.ts'
import { openingSizes } from '../backward/openings.ts'
import type { Sources } from '../backward/sources.ts'
import { type SpectralCells, spectralCells } from '../backward/spectrum.ts'

/** Per dispatch: rays [start, end) of every batch, of a chunk that began at `begin`; whether it adds to what stands there. */
const CHUNK = ['seed', 'begin', 'start', 'end', 'log2Threads', 'goesOn', 'recordAll'] as const
/** Beginnings in `backwardQuads` and in `backwardWords`, and how many there are. */
const PLACES = [
  'planes',
  'sourcesAt',
  'cellsAt',
  'cells',
  'guideAt',
  'edgesAt',
  'edges',
  'mixtureAt',
  'spectra',
  'open',
] as const
export const BACKWARD_COUNTS = [...CHUNK, ...PLACES, 'aim'] as const
const OPENING = ['areaMm2', 'openingHalf', 'sideTan', 'reachMm', 'edgeAreaMm2', 'edgeShare', 'perScore'] as const
const AIM = [
  ...['aimX', 'aimY', 'aimZ', 'discHalf'],
  ...['cosTheta', 'sinTheta', 'cosPhi', 'sinPhi', 'fromC', 'widthC'],
] as const
export const BACKWARD_SCALES = [...OPENING, ...AIM] as const
export const BACKWARD_SETUP_WORDS = 4 * Math.ceil((BACKWARD_COUNTS.length + BACKWARD_SCALES.length) / 4)

type Counts = Record<(typeof BACKWARD_COUNTS)[number], number>
type Scales = Record<(typeof BACKWARD_SCALES)[number], number>
export type BackwardOffsets = Record<(typeof PLACES)[number], number>
export type BackwardChunk = Record<(typeof CHUNK)[number], number>

export interface BackwardTables {
  backwardQuads: Float32Array<ArrayBuffer>
  words: Uint32Array<ArrayBuffer>
  places: BackwardOffsets
}

/** More spectra than this, and the table of their mixtures grows out of proportion. */
export const MOST_SPECTRA = 32

/** Different spectra of a scene's kinds of emitters. */
export function spectraOf({ kinds }: Scene): number {
  const starts = new Set<number>()
  for (let at = 0; at < kinds.length; at += KIND.size) starts.add(kinds[at + KIND.spectrumAt]!)
  return starts.size
}

const known = new WeakMap<Sources, { spectra: SpectralCells; tables: BackwardTables }>()

/** What all aims at one scene read: made once while its emitters and what is seen of their light stay as they are. Not to be written into. */
export function backwardTables(scene: Scene, sources: Sources): BackwardTables {
  const spectra = spectralCells(scene, sources.share)
  const cached = known.get(sources)
  if (cached?.spectra === spectra) return cached.tables
  const tables = tablesOf(sources, spectra)
  known.set(sources, { spectra, tables })
  return tables
}

function tablesOf(sources: Sources, spectra: SpectralCells): BackwardTables {
  const { planes, count } = sources
  const { drawn, below, guide } = spectra
  const mixture = mixtureTable(spectra)
  const grids = planes.reduce((sum, p) => sum + p.start.length + p.items.length, 0)
  const words = new Uint32Array(grids + guide.length + mixture.edges.length + mixture.rows.length)
  const bits = new Float32Array(words.buffer)
  const sourcesAt = 2 * planes.length
  const cellsAt = sourcesAt + 2 * count
  const backwardQuads = new Float32Array(4 * (cellsAt + drawn.length + 1))
  const sightBits = new Uint32Array(backwardQuads.buffer)

  let at = 0
  for (const [k, plane] of planes.entries()) {
    backwardQuads.set([plane.zMm, plane.fromX, plane.fromY, plane.perMm], 8 * k)
    sightBits.set([plane.columns, plane.rows, at], 8 * k + 4)
    const items = at + plane.start.length
    for (const start of plane.start) words[at++] = items + start
    words.set(plane.items, items)
    at = items + plane.items.length
  }
  for (let i = 0; i < count; i++) {
    const row = 4 * (sourcesAt + 2 * i)
    backwardQuads.set([sources.atX[i]!, sources.atY[i]!, sources.radiance[i]!, spectra.of[i]!], row)
    backwardQuads.set([sources.share[i]!, sources.planeZ[i]!, sources.cup[i]!, sources.direct[i]!], row + 4)
  }
  const total = below[drawn.length]!
  for (const [c, cell] of drawn.entries()) {
    backwardQuads.set([below[c]! / total, cell.from, cell.to - cell.from], 4 * (cellsAt + c))
    sightBits[4 * (cellsAt + c) + 3] = mixture.rowOf[c]!
  }
  backwardQuads[4 * (cellsAt + drawn.length)] = 1
  const guideAt = at
  words.set(guide, guideAt)
  const edgesAt = guideAt + guide.length
  bits.set(mixture.edges, edgesAt)
  const mixtureAt = edgesAt + mixture.edges.length
  bits.set(mixture.rows, mixtureAt)
  const places: BackwardOffsets = {
    ...{ planes: planes.length, sourcesAt, cellsAt, cells: drawn.length, guideAt, edgesAt },
    ...{ edges: mixture.edges.length, mixtureAt, spectra: spectra.count, open: sources.open ? 1 : 0 },
  }
  return { backwardQuads, words, places }
}

/** Written for a cell whose row depends on where in it the wavelength lies. */
const ELSEWHERE = 0xffffffff

/**
 * Of one spectrum a row a cell. Of several, all cells' ends cut the wavelengths into chunks in which every density is even: a row a chunk,
 * and then one a line.
 */
function mixtureTable({ drawn, below, count, mixture }: SpectralCells) {
  const rowOf = new Uint32Array(drawn.length)
  const ratio = new Float64Array(count)
  if (count === 1) {
    const total = below[drawn.length]!
    for (let c = 0; c < drawn.length; c++) rowOf[c] = c
    return { rowOf, edges: new Float32Array(0), rows: Float32Array.from(drawn, (cell) => total / cell.tilt) }
  }
  const broad = drawn.filter((cell) => cell.from < cell.to)
  const edges = Float32Array.from(new Set(broad.flatMap((cell) => [cell.from, cell.to]))).sort()
  const rows: number[] = []
  for (let e = 0; e + 1 < edges.length; e++) {
    mixture(ratio, 0.5 * (edges[e]! + edges[e + 1]!), false)
    rows.push(...ratio)
  }
  for (const [c, cell] of drawn.entries()) {
    rowOf[c] = ELSEWHERE
    if (cell.from < cell.to) continue
    rowOf[c] = rows.length / count
    mixture(ratio, cell.from, true)
    rows.push(...ratio)
  }
  return { rowOf, edges, rows: Float32Array.from(rows) }
}

/** One dispatch's words. */
export function packBackwardSetup(
  scene: Scene,
  sources: Sources,
  places: BackwardOffsets,
  aim: Aim,
  chunk: BackwardChunk,
): ArrayBuffer {
  const opening = openingSizes(scene.params, slantOf(aim, scene.params))
  const scales: Scales = {
    areaMm2: opening.areaMm2,
    openingHalf: opening.half,
    sideTan: opening.sideTan,
    reachMm: opening.reach,
    edgeAreaMm2: opening.edgeShare > 0 ? opening.edgeAreaMm2 / opening.edgeShare : 0,
    edgeShare: opening.edgeShare,
    perScore: stepsPerScore(sources, opening.areaMm2, aim),
    ...aimScales(aim),
  }
  const counts: Counts = { ...chunk, ...places, aim: aim.kind === 'disc' ? 0 : aim.kind === 'ring' ? 1 : 2 }
  const buffer = new ArrayBuffer(4 * BACKWARD_SETUP_WORDS)
  new Uint32Array(buffer).set(BACKWARD_COUNTS.map((name) => counts[name]))
  new Float32Array(buffer).set(
    BACKWARD_SCALES.map((name) => scales[name]),
    BACKWARD_COUNTS.length,
  )
  return buffer
}

function aimScales(aim: Aim): Record<(typeof AIM)[number], number> {
  if (aim.kind === 'disc') {
    const none = { cosTheta: 1, sinTheta: 0, cosPhi: 1, sinPhi: 0, fromC: 0, widthC: 0 }
    return { ...none, aimX: aim.xMm, aimY: aim.yMm, aimZ: aim.zMm, discHalf: aim.discMm / 2 }
  }
  return { ...{ aimX: 0, aimY: 0, aimZ: 0, discHalf: 0 }, ...directionsOf(aim) }
}
