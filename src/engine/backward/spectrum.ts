// Wavelengths for backward rays: one is drawn before anyone knows which emitter it will meet, from a mixture over all spectra, tilted
// towards where the eye sees; an emitter's radiance then carries the ratio of the two densities.

import { memoize } from '../../num/memoize.ts'
import * as E from '../../optics/emitterRow.ts'
import * as KIND from '../../optics/kindRow.ts'
import { INDEX, LUM, NM_COUNT, NM_FIRST, NM_STEP, QUANTILES, WAVELENGTH } from '../../optics/records.ts'
import type { Scene } from '../../scene/scene.ts'

/** Part of the draws that follows watts alone, so that radiant figures keep a bounded weight: at most 1/PLAIN. */
const PLAIN = 0.25
const GUIDE = 2048

export interface Spectra {
  /** Number of each emitter's spectrum. */
  of: Uint16Array
  count: number
  /** Mean of 683.002 V(λ) over what the emitters give, lm/W: as the forward tracer's rays have it. */
  meanLum: number
  /** Sets wavelength, index and luminous weight of the ray; then `ratio[j]` is density of spectrum j over the drawn density. */
  choose(ray: Float64Array, u: number): void
  ratio: Float64Array
}

interface Cell {
  spectrum: number
  from: number
  to: number
  /** Share of the watts. */
  watts: number
  /** Tilt: drawn share over share of the watts. */
  tilt: number
}

type CellInputs = Pick<Scene, 'kinds' | 'quantiles' | 'lumPerWatt'> & {
  /** Of each emitter: row of `kinds`, and share of the watts. */
  kindOf: Uint32Array
  share: Float64Array
}

/** Where it begins, nm, and its width; drawn weight below it, and its own; ratio of the densities if there is one spectrum. */
export const CELL_ROW = ['from', 'span', 'below', 'weight', 'ratio'] as const
const CELL_SIZE = CELL_ROW.length

/** The cells that wavelengths are drawn from, for either engine. */
export interface SpectralCells {
  of: Uint16Array
  count: number
  meanLum: number
  /** By rising wavelength. */
  drawn: readonly Cell[]
  /** What a draw needs of each of them: CELL_ROW. */
  rows: Float64Array
  /** Weight below each drawn cell; the last is the whole. */
  below: Float64Array
  total: number
  /** Index table: for each of GUIDE equal intervals of (0, 1), the cell that its lower end falls in. */
  guide: Int32Array
  /** Density of each spectrum at a wavelength (of a cell without width: `line`) over the drawn density, into `ratio`. */
  mixture(ratio: Float64Array, nm: number, line: boolean): void
}

/** `share`: of the emitted watts, by emitter (`Sources`). Kept while all that is read here stays as it is: emitters may move. */
export function spectralCells({ emitters, kinds, quantiles, lumPerWatt }: Scene, share: Float64Array): SpectralCells {
  const kindOf = Uint32Array.from(share, (_, i) => emitters[i * E.size + E.kind] ?? 0)
  return memoizedCells({ kindOf, kinds, quantiles, lumPerWatt, share })
}

const memoizedCells = memoize(
  ({ kindOf, kinds, quantiles, lumPerWatt, share }) => [kindOf, kinds, quantiles, lumPerWatt, share],
  makeCells,
)

function makeCells({ kindOf, kinds, quantiles, lumPerWatt, share }: CellInputs): SpectralCells {
  const numbers = new Map<number, number>()
  const of = new Uint16Array(share.length)
  const weight: number[] = []
  for (let i = 0; i < share.length; i++) {
    const at = kinds[kindOf[i]! * KIND.size + KIND.spectrumAt]!
    if (!numbers.has(at)) {
      numbers.set(at, numbers.size)
      weight.push(0)
    }
    of[i] = numbers.get(at)!
    weight[of[i]!]! += share[i]!
  }
  const starts = [...numbers.keys()]
  const cells: Cell[] = []
  let meanLum = 0
  for (const [j, at] of starts.entries()) {
    const mono = quantiles[at]! === quantiles[at + QUANTILES]!
    const n = mono ? 1 : QUANTILES
    for (let q = 0; q < n; q++) {
      const from = quantiles[at + q]!
      const to = mono ? from : quantiles[at + q + 1]!
      const lum = meanOver(lumPerWatt, from, to)
      cells.push({ spectrum: j, from, to, watts: weight[j]! / n, tilt: lum })
      meanLum += (weight[j]! / n) * lum
    }
  }
  for (const cell of cells) cell.tilt = PLAIN + (1 - PLAIN) * (meanLum > 0 ? cell.tilt / meanLum : 1)
  cells.sort((a, b) => a.from + a.to - b.from - b.to || a.spectrum - b.spectrum)
  const drawn = cells.filter((cell) => cell.watts > 0)
  const below = new Float64Array(drawn.length + 1)
  for (const [c, cell] of drawn.entries()) below[c + 1] = below[c]! + cell.watts * cell.tilt
  const total = below[drawn.length]!
  const guide = new Int32Array(GUIDE)
  for (let g = 0, c = 0; g < GUIDE; g++) {
    while (c < drawn.length - 1 && below[c + 1]! <= (total * g) / GUIDE) c++
    guide[g] = c
  }
  const mixture = makeMixture(cells, weight)
  return {
    ...{ of, count: starts.length, meanLum, drawn, rows: rowsOf(drawn, total), below, total, guide },
    mixture: (ratio, nm, line) => mixture(ratio, nm, line, total),
  }
}

function rowsOf(drawn: readonly Cell[], total: number): Float64Array {
  let below = 0
  return Float64Array.from(
    drawn.flatMap(({ from, to, watts, tilt }) => {
      const before = below
      below += watts * tilt
      return [from, to - from, before, below - before, total / tilt]
    }),
  )
}

export function makeSpectra(scene: Scene, share: Float64Array): Spectra {
  const { lensIndex, lumPerWatt } = scene
  const { of, count, meanLum, drawn, rows, below, total, guide, mixture } = spectralCells(scene, share)
  const last = drawn.length - 1
  const ratio = new Float64Array(count)
  return {
    of,
    count,
    meanLum,
    ratio,
    choose(ray, u) {
      const want = u * total
      let c = guide[(u * GUIDE) | 0]!
      while (c < last && below[c + 1]! <= want) c++
      const at = CELL_SIZE * c
      const span = rows[at + 1]!
      const nm = rows[at]! + ((want - rows[at + 2]!) / rows[at + 3]!) * span
      const s = (nm - NM_FIRST) / NM_STEP
      const i = Math.max(0, Math.min(NM_COUNT - 2, s | 0))
      const f = s - i
      ray[WAVELENGTH] = nm
      ray[INDEX] = lensIndex[i]! + f * (lensIndex[i + 1]! - lensIndex[i]!)
      ray[LUM] = lumPerWatt[i]! + f * (lumPerWatt[i + 1]! - lumPerWatt[i]!)
      if (count === 1) ratio[0] = rows[at + 4]!
      else mixture(ratio, nm, span === 0)
    },
  }
}

/** Mean of a table that is linear between its points, over [from, to]. */
function meanOver(table: Float32Array, from: number, to: number): number {
  const parts = 16
  let sum = 0
  for (let k = 0; k < parts; k++) {
    const s = (from + ((k + 0.5) / parts) * (to - from) - NM_FIRST) / NM_STEP
    const i = Math.max(0, Math.min(NM_COUNT - 2, Math.floor(s)))
    sum += table[i]! + (s - i) * (table[i + 1]! - table[i]!)
  }
  return sum / parts
}

/**
 * Several spectra: density of each at a wavelength, over the density with which it is drawn. A single line is a density of its own kind: beside
 * it the continuous ones are nothing, and the other way round.
 */
function makeMixture(
  cells: readonly Cell[],
  weight: readonly number[],
): (ratio: Float64Array, nm: number, line: boolean, total: number) => void {
  const own = weight.map((_, j) => cells.filter((cell) => cell.spectrum === j))
  const lines = own.map((list) => list.length === 1)
  const froms = own.map((list) => Float64Array.from(list, (cell) => cell.from))
  return (ratio, nm, line, total) => {
    let drawn = 0
    for (let j = 0; j < own.length; j++) {
      ratio[j] = 0
      if (lines[j] !== line) continue
      let cell = own[j]![0]!
      if (line) {
        if (cell.from !== nm) continue
        ratio[j] = 1
      } else {
        const from = froms[j]!
        let low = 0
        let high = from.length - 1
        while (low < high) {
          const mid = (low + high + 1) >> 1
          if (from[mid]! <= nm) low = mid
          else high = mid - 1
        }
        cell = own[j]![low]!
        if (nm < cell.from || nm > cell.to) continue
        ratio[j] = 1 / (own[j]!.length * Math.max(cell.to - cell.from, 1e-6))
      }
      drawn += weight[j]! * ratio[j]! * cell.tilt
    }
    if (drawn > 0) for (let j = 0; j < own.length; j++) ratio[j]! *= total / drawn
  }
}
