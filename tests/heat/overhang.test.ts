// Fins that stand out beyond the plate, against a field computed cell by cell.
import { describe, expect, test } from 'vitest'
import { finEfficiency, overhangWK } from '../../src/heat/fins.ts'
import { makeSink } from '../../src/heat/sink.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { expectWithin } from '../kit/expect.ts'

/**
 * Heat from the base into one fin, W/K: plate under x < 0 (`onM` long, the left side a plane of symmetry), `outM` beyond
 * it. k t ∇²θ = 2h θ on square cells, the base held at 1 by half a cell (finite volumes, over-relaxed).
 */
function computedWK(h: number, k: number, t: number, heightM: number, onM: number, outM: number, cells: number) {
  const d = heightM / cells
  const [on, columns] = [Math.round(onM / d), Math.round((onM + outM) / d)]
  const sheet = k * t
  const sink = 2 * h * d * d
  const T = Array.from({ length: cells }, () => new Float64Array(columns).fill(0.5))
  for (let turn = 0; turn < 4000; turn++) {
    for (let j = 0; j < cells; j++) {
      const row = T[j]!
      for (let i = 0; i < columns; i++) {
        let [flow, sum] = [0, sink]
        const from = (x: number, g: number) => {
          flow += g * x
          sum += g
        }
        if (i > 0) from(row[i - 1]!, sheet)
        if (i + 1 < columns) from(row[i + 1]!, sheet)
        if (j > 0) from(T[j - 1]![i]!, sheet)
        else if (i < on) from(1, 2 * sheet)
        if (j + 1 < cells) from(T[j + 1]![i]!, sheet)
        row[i]! += 1.9 * (flow / sum - row[i]!)
      }
    }
  }
  return sink * T.reduce((sum, row) => sum + row.reduce((a, b) => a + b, 0), 0)
}

describe('one fin, 6061, 40 mm high and 2 mm thick', () => {
  const [k, t, height] = [167, 0.002, 0.04]
  test.each([
    [8, 0.04],
    [8, 0.2],
    [40, 0.1],
    [8, 0.6],
  ])('film %i W/m²K, %f m beyond the plate: as computed', (h, outM) => {
    const onM = 0.1
    const whole = computedWK(h, k, t, height, onM, outM, 10)
    // The plain fin over the plate, no tip: the cells have none either.
    const over = 2 * h * onM * height * finEfficiency(h, k, t, height - t / 2)
    const beyond = overhangWK(h, k, t, height, outM - t / 2)
    expectWithin(over + beyond, whole, { rel: 0.04, because: 'cells of a tenth of the height; the drive is a mean' })
    // Counted as if the plate went on under it, it would be far too good.
    expect(2 * h * (onM + outM) * height).toBeGreaterThan(outM < 0.1 ? whole : 1.25 * whole)
  })
})

describe('the whole sink', () => {
  const face = { shape: 'square' as const, sizeMm: 100 }
  const sink = (lengthMm?: number) => {
    const fins = { kind: 'fins' as const, count: 8, heightMm: 40, thicknessMm: 2, spacingMm: 10 }
    const cooling = { ...gannetHead().cooling!, sink: lengthMm === undefined ? fins : { ...fins, lengthMm } }
    return makeSink(cooling, face, 20)
  }
  test('fins as long as the face: as before; longer ones help, ever less', () => {
    expectWithin(sink(100).totalWK(80), sink().totalWK(80), { rel: 1e-12, because: 'the same fins' })
    const [one, two, four, eight] = [100, 200, 400, 800].map((mm) => sink(mm).totalWK(80))
    expect(two!).toBeGreaterThan(one!)
    expect(two! / one!).toBeLessThan(1.9)
    expect(four! / two!).toBeLessThan(1.6)
    expect(eight! / four!).toBeLessThan(1.15)
  })
})
