// The cells of wavelengths are kept while a lamp is dragged, and made anew by whatever they are read from.
import { expect, test } from 'vitest'
import { sourcesOf } from '../../../src/engine/backward/sources.ts'
import { spectralCells } from '../../../src/engine/backward/spectrum.ts'
import { gannetHead } from '../../../src/library/demos.ts'
import * as E from '../../../src/optics/emitterRow.ts'
import * as KIND from '../../../src/optics/kindRow.ts'
import { sceneOf } from '../../kit/traceHere.ts'

test('a moved board keeps them; another spectrum, efficacy, share or kind does not', () => {
  const lamp = gannetHead()
  const scene = sceneOf(lamp)
  const { share } = sourcesOf(scene)
  const cells = spectralCells(scene, share)
  const moved = sceneOf({ ...lamp, boards: lamp.boards.map((board, i) => (i > 0 ? board : { ...board, xMm: 1 })) })
  expect(moved.emitters).not.toEqual(scene.emitters)
  expect(spectralCells(moved, sourcesOf(moved).share)).toBe(cells)
  const quantiles = scene.quantiles.map((nm) => nm + 1)
  expect(spectralCells({ ...scene, quantiles }, share).meanLum).not.toBe(cells.meanLum)
  const lumPerWatt = scene.lumPerWatt.map((lm) => 2 * lm)
  expect(spectralCells({ ...scene, lumPerWatt }, share).meanLum).toBeCloseTo(2 * cells.meanLum, 9)
  expect(
    spectralCells(
      scene,
      share.map((s) => s / 2),
    ).meanLum,
  ).toBeCloseTo(cells.meanLum / 2, 9)
  // Each emitter by its own kind: of two kinds that differ in their spectrum alone.
  const [kinds, twice] = [Float32Array.of(...scene.kinds, ...scene.kinds), [...scene.quantiles, ...quantiles]]
  const two = { ...scene, kinds, quantiles: Float32Array.from(twice) }
  const emitters = scene.emitters.slice()
  expect(spectralCells({ ...two, emitters }, share).meanLum).toBe(cells.meanLum)
  const offset = scene.quantiles.length
  const rows = scene.kinds.length / KIND.size
  kinds.set([(scene.kinds.at(KIND.spectrumAt) ?? 0) + offset], rows * KIND.size + KIND.spectrumAt)
  emitters.set([rows], E.kind)
  expect(spectralCells({ ...two, emitters }, share).count).toBe(2)
})
