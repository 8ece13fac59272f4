// The backward kernel with its common way in WebAssembly, where the scene allows it: the same bits.
import { SOBOL_DIMENSIONS } from '../../../optics/draws.ts'
import * as KIND from '../../../optics/kindRow.ts'
import * as P from '../../../optics/params.ts'
import { scrambleOf } from '../../../optics/scrambles.ts'
import { sobolAt } from '../../../optics/sobol.ts'
import { makeRoom, planRoom } from '../../../optics/wasm/machine.ts'
import { PARAMS_AT, POINT_AT, SIDES_MOST } from '../../../optics/wasm/slots.ts'
import type { Scene } from '../../../scene/scene.ts'
import type { Aim } from '../aim.ts'
import { type BackwardKernel, directionsOf, makeBackwardKernel, SUMS, slantOf, stepsPerScore } from '../estimator.ts'
import { openingSizes } from '../openings.ts'
import type { Plane, Sources } from '../sources.ts'
import { type SpectralCells, spectralCells } from '../spectrum.ts'
import { type BackwardMachine, backwardMachine } from './instance.ts'
import { AIM_KINDS, COUNTS, COUNTS_AT, NUMBERS, NUMBERS_AT, SUMS_AT } from './slots.ts'

/** KIND.profile of a table over the angle to the axis; beyond it are maps and single rays. */
const BY_TABLE = 1
/** Bytes of a plane's row: four doubles and four integers (radiance.as). */
const PLANE = 48

export function fastBackwardKernel(scene: Scene, aim: Aim, seed: number, sources: Sources): BackwardKernel {
  const kernel = makeBackwardKernel(scene, aim, seed, sources)
  const machine = fits(scene, sources) ? backwardMachine() : null
  return machine ? { ...kernel, traceBatch: commonWay(machine, scene, aim, seed, sources) } : kernel
}

/** A plain lamp, emitters on the face that look along the axis, without cups, whose profiles are round. */
function fits({ params, frames, kinds, assembly }: Scene, { cup }: Sources): boolean {
  if (assembly || params[P.source]! > 0 || frames.length > 0 || params[P.sides]! > SIDES_MOST || cup.includes(1))
    return false
  for (let at = 0; at + KIND.size <= kinds.length; at += KIND.size)
    if (kinds[at + KIND.profile]! > BY_TABLE) return false
  return true
}

function commonWay(
  machine: BackwardMachine,
  scene: Scene,
  aim: Aim,
  seed: number,
  sources: Sources,
): BackwardKernel['traceBatch'] {
  const spectra = spectralCells(scene, sources.share)
  const named = { ...numbersOf(scene, aim, sources, spectra), ...countsOf(aim, sources, spectra) }
  const numbers = Float64Array.from(NUMBERS, (name) => named[name])
  const counts = Int32Array.from(COUNTS, (name) => named[name])
  const point = new Int32Array(SOBOL_DIMENSIONS)
  return (batch, from, to, sums) => {
    const numbersAt = moveIn(machine, scene, sources, spectra)
    const { buffer } = machine.memory
    const scramble = scrambleOf(seed, batch)
    new Int32Array(buffer, numbersAt, scramble.length).set(scramble)
    new Float64Array(buffer, NUMBERS_AT, numbers.length).set(numbers)
    new Int32Array(buffer, COUNTS_AT, counts.length).set(counts)
    sobolAt(point, scramble, from)
    new Int32Array(buffer, POINT_AT, point.length).set(point)
    const inside = new Float64Array(buffer, SUMS_AT, SUMS)
    inside.set(sums)
    machine.trace(seed, batch, from, to)
    sums.set(inside)
  }
}

function numbersOf(
  scene: Scene,
  aim: Aim,
  sources: Sources,
  { total }: SpectralCells,
): Record<(typeof NUMBERS)[number], number> {
  const { areaMm2, ...opening } = openingSizes(scene.params, slantOf(aim, scene.params))
  const disc = aim.kind === 'disc'
  const none = { fromC: 0, widthC: 0, cosTheta: 0, sinTheta: 0, cosPhi: 0, sinPhi: 0 }
  return {
    ...(disc ? none : directionsOf(aim)),
    ...(disc
      ? { discX: aim.xMm, discY: aim.yMm, discZ: aim.zMm, discHalfMm: aim.discMm / 2 }
      : { discX: 0, discY: 0, discZ: 0, discHalfMm: 0 }),
    areaMm2,
    ...opening,
    topMm: sources.planes[0]?.zMm ?? Number.NEGATIVE_INFINITY,
    spectralTotal: total,
    perScore: stepsPerScore(sources, areaMm2, aim),
  }
}

const countsOf = (aim: Aim, { planes, open }: Sources, { drawn, count }: SpectralCells) => ({
  aimKind: AIM_KINDS.indexOf(aim.kind),
  planes: planes.length,
  open: open ? 1 : 0,
  cells: drawn.length,
  spectra: count,
})

/** The scene's tables into the memory, unless they are there. Gives the address of the sequence's numbers. */
function moveIn(machine: BackwardMachine, scene: Scene, sources: Sources, spectra: SpectralCells): number {
  if (machine.user === sources && machine.scene === scene) return machine.numbersAt
  const { params, emitters, kinds, profiles, lensIndex, lumPerWatt, rings, faceCorners } = scene
  const scramble = new Int32Array(33 * SOBOL_DIMENSIONS)
  const tables = [
    ...[emitters, kinds, profiles, lensIndex, lumPerWatt, rings, faceCorners, scramble],
    ...[sources.radiance, Int32Array.from(spectra.of), new Float64Array(spectra.count)],
    ...[...planeTables(sources.planes), spectra.rows, spectra.guide],
  ]
  const room = planRoom(tables.map((table) => table.byteLength))
  makeRoom(machine, room.bytes)
  const { buffer } = machine.memory
  new Float32Array(buffer, PARAMS_AT, params.length).set(params)
  for (const [i, table] of tables.entries())
    new Uint8Array(buffer, room.starts[i], table.byteLength).set(
      new Uint8Array(table.buffer, table.byteOffset, table.byteLength),
    )
  machine.place(...room.starts)
  machine.numbersAt = room.starts[tables.indexOf(scramble)]!
  machine.ratio = new Float64Array(buffer, room.starts[10], spectra.count)
  Object.assign(machine, { scene, params, user: sources, mixture: spectra.mixture })
  return machine.numbersAt
}

/** Rows of the planes, and the starts and items of all of them. */
function planeTables(planes: readonly Plane[]): [rows: Uint8Array, grid: Int32Array] {
  const rows = new Uint8Array(PLANE * planes.length)
  const grid = new Int32Array(planes.reduce((sum, { start, items }) => sum + start.length + items.length, 0))
  let at = 0
  for (const [k, { zMm, fromX, fromY, perMm, columns, rows: lines, start, items }] of planes.entries()) {
    new Float64Array(rows.buffer, PLANE * k, 4).set([zMm, fromX, fromY, perMm])
    new Int32Array(rows.buffer, PLANE * k + 32, 4).set([columns, lines, at, at + start.length])
    grid.set(start, at)
    grid.set(items, at + start.length)
    at += start.length + items.length
  }
  return [rows, grid]
}
