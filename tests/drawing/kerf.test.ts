// Kerf: a line moved aside encloses what geometry says. Steiner's formula for convex outlines with sharp corners (from memory):
// area + d × length + d² Σ tan(turn / 2).

import { describe, expect, test } from 'vitest'
import { addKerf, offsetPath } from '../../src/drawing/kerf.ts'
import { boxOf, circle, pathAreaMm2, pathLengthMm, polygonPath, vertex } from '../../src/drawing/path.ts'
import type { Path } from '../../src/drawing/types.ts'
import { allInSystem } from '../../src/num/quantity.ts'
import { expectWithin } from '../kit/expect.ts'

const EXACT = { rel: 1e-12, because: 'rounding' }
const moved = (path: Path, by: number): Path => {
  const made = offsetPath(path, by)
  if (!made) throw new Error('nothing left')
  return made
}

describe('outwards and inwards', () => {
  test.each([3, 4, 6, 17])('a regular polygon of %i corners, either way round', (n) => {
    const corners = Array.from(
      { length: n },
      (_, i) => [10 * Math.cos((2 * Math.PI * i) / n), 10 * Math.sin((2 * Math.PI * i) / n)] as const,
    )
    for (const list of [corners, corners.toReversed()])
      for (const d of [0.2, -0.3]) {
        const path = polygonPath('outline', list)
        const area = Math.abs(pathAreaMm2(path)) + d * pathLengthMm(path) + d * d * n * Math.tan(Math.PI / n)
        expectWithin(Math.abs(pathAreaMm2(moved(path, d))), area, EXACT)
      }
  })

  test('a corner that points inwards', () => {
    const corners = [
      [0, 0],
      [20, 0],
      [20, 10],
      [10, 10],
      [10, 20],
      [0, 20],
    ] as const
    const area = pathAreaMm2(moved(polygonPath('outline', corners), 1))
    // 22 × 22 less the 10 × 10 notch.
    expectWithin(area, 22 * 22 - 10 * 10, EXACT)
  })

  test('a sector of a ring keeps its arcs, their centre and its straight edges', () => {
    const [r, R, half] = [30, 80, 0.6]
    const at = (q: number, a: number) => [q * Math.sin(a), q * Math.cos(a)] as const
    const bulge = Math.tan(half / 2)
    const path: Path = {
      ...{ kind: 'path', layer: 'outline', closed: true },
      vertices: [vertex(at(r, -half), -bulge), vertex(at(r, half)), vertex(at(R, half), bulge), vertex(at(R, -half))],
    }
    const d = 0.5
    const out = moved(path, d)
    // Between radii r − d and R + d; each straight edge moved by d adds strips whose ends the arcs cut.
    const strip = (q: number) => (d * Math.sqrt(q * q - d * d) + q * q * Math.asin(d / q)) / 2
    const area = half * ((R + d) ** 2 - (r - d) ** 2) + 2 * (strip(R + d) - strip(r - d))
    expectWithin(pathAreaMm2(out), area, { rel: 1e-10, because: 'rounding' })
    expect(out.vertices.filter((v) => v.bulge !== 0)).toHaveLength(2)
  })

  test('a slot with round ends stays one', () => {
    const slot: Path = {
      ...{ kind: 'path', layer: 'slot', closed: true },
      vertices: [vertex([-5, -2]), vertex([5, -2], 1), vertex([5, 2]), vertex([-5, 2], 1)],
    }
    expectWithin(pathAreaMm2(moved(slot, -0.5)), 10 * 3 + Math.PI * 1.5 ** 2, EXACT)
    const { fromX, toX } = boxOf([moved(slot, -0.5)])
    expectWithin(toX - fromX, 13, { abs: 0.1, because: 'chords within 0.05 mm' })
  })
})

describe('what can’t be cut', () => {
  test('a hole no wider than the kerf, an edge that vanishes', () => {
    expect(allInSystem(addKerf([circle('hole', [0, 0], 0.5)], 1), 'metric')).toEqual({
      ok: false,
      why: 'A hole of 1 mm is no wider than the kerf of 1 mm.',
    })
    const slit = polygonPath('hole', [
      [0, 0],
      [10, 0],
      [10, 0.5],
      [0, 0.5],
    ])
    expect(addKerf([slit], 1).ok).toBe(false)
  })

  test('bends, marks and sizes stay where they are; outlines go out, openings in', () => {
    const mark = circle('mark', [0, 0], 5)
    const made = addKerf([circle('outline', [0, 0], 10), circle('hole', [0, 0], 3), mark], 0.4)
    expect(made.ok && made.items.map((i) => (i.kind === 'circle' ? i.radiusMm : 0))).toEqual([10.2, 2.8, 5])
  })
})
