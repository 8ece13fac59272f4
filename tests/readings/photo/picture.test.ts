// Pictures rendered from a known wall through a known camera give the wall back within what they say is open.
import { describe, expect, test } from 'vitest'
import type { GridSet } from '../../../src/lamp/readings.ts'
import { normalFrom, seededRandom } from '../../../src/num/rng.ts'
import { measuredFigures } from '../../../src/readings/figures.ts'
import { readGrid } from '../../../src/readings/grid.ts'
import { mapped, type Point } from '../../../src/readings/photo/homography.ts'
import { maskedShares, mergeExposures } from '../../../src/readings/photo/merge.ts'
import { brightestPlace, maskedCells, pictureSet } from '../../../src/readings/photo/pictureSet.ts'
import { MASK } from '../../../src/readings/photo/pixels.ts'
import { pictureAngles } from '../../../src/readings/photo/profile.ts'
import { cosineShading, fieldShading, type Shading } from '../../../src/readings/photo/shading.ts'
import { pictureTerms } from '../../../src/readings/photo/terms.ts'
import { thinned } from '../../../src/readings/photo/thinned.ts'
import { mapWall, type WallMap } from '../../../src/readings/photo/wallMap.ts'
import { amount } from '../../kit/amount.ts'
import { CAMERA, type Camera, pictureOf, toPixels } from './camera.ts'

/** An analytic wall, lx: a beam beside the middle over a little of everything. Its widths by hand: σ 300 mm across, 250 mm up. */
const [X0, Y0] = [120, -60]
const lux = (x: number, y: number) =>
  4 + 900 * Math.exp(-((x - X0) ** 2) / (2 * 300 ** 2) - (y - Y0) ** 2 / (2 * 250 ** 2))
const COS4 = cosineShading(26, 4 / 3)
const CELLS = 21
const METER = { calibrationPct: 4, spectralPct: 3, cosinePct: 0 }

interface Taken {
  times: readonly number[]
  seed: number
  camera?: Camera
  /** What the meter shows over the truth, and by how much the marks are missed, px. */
  meter?: number
  missedPx?: number
  shading?: Shading
  /** Light of the shortest exposure where it is brightest, of full scale. */
  level?: number
  meterAt?: Point
}

function merged({ times, seed, camera = CAMERA, level = 0.7 }: Taken) {
  const found = mergeExposures(
    times.map((t, i) => ({
      picture: pictureOf(camera, lux, (level * t) / 904, 100 * seed + i),
      logExposure: Math.log(t),
    })),
  )
  if (!found.ok) throw new Error(found.why)
  return found.merged
}

function mapOf(taken: Taken): WallMap {
  const { seed, camera = CAMERA, meter = 1, missedPx = 0, shading = COS4, meterAt = [300, -60] } = taken
  const normal = normalFrom(seededRandom(seed))
  const [x, y] = mapped(toPixels(camera), meterAt)
  const result = mapWall({
    merged: merged(taken),
    shading,
    marks: camera.marks.map(([u, v]) => [
      u + (missedPx * normal()) / camera.widthPx,
      v + (missedPx * normal()) / camera.heightPx,
    ]),
    widthMm: camera.widthMm,
    heightMm: camera.heightMm,
    distanceM: 6,
    cells: CELLS,
    reading: { at: [x / camera.widthPx, y / camera.heightPx], lx: lux(...meterAt) * meter },
    meter: METER,
  })
  if (!result.ok) throw new Error(result.why)
  return result.map
}

const offBy = (cell: { xMm: number; yMm: number; lx: number }) => cell.lx / lux(cell.xMm, cell.yMm) - 1

test('the map comes back: right side to the right as seen from the wall, each cell within a few per cent', () => {
  const map = mapOf({ times: [1, 4, 16], seed: 1 })
  expect([map.columns, map.rows]).toEqual([21, 15])
  const [first, last] = [map.cells[0], map.cells.at(-1)]
  // The upper left of the picture is the right of the wall seen towards the lamp: 1000 − 2000/42 = 952.4 mm.
  expect(first).toMatchObject({ xMm: expect.closeTo(952.38, 2), yMm: expect.closeTo(700, 6) })
  expect(last).toMatchObject({ xMm: expect.closeTo(-952.38, 2), yMm: expect.closeTo(-700, 6) })
  expect(maskedCells(map)).toEqual({ saturated: 0, black: 0, outside: 0 })
  for (const cell of map.cells) expect(Math.abs(offBy(cell)), `${cell.xMm} ${cell.yMm}`).toBeLessThan(0.06)
  const [x, y] = brightestPlace(map)
  expect(Math.hypot(x - X0, y - Y0)).toBeLessThan(15)
})

test('within two standard uncertainties as often as that says, whatever camera, meter and hand', () => {
  const seeds = amount(3, 60)
  let [inside, cells, least] = [0, 0, Infinity]
  for (let seed = 1; seed <= seeds; seed++) {
    const random = seededRandom(7 * seed)
    const normal = normalFrom(random)
    const exponent = 1 + 0.12 * normal()
    const camera: Camera = { ...CAMERA, cos4: random(), curve: (light) => light ** (1 / exponent) }
    const times = seed % 3 === 0 ? [1] : seed % 3 === 1 ? [1, 4] : [1, 3, 12]
    // The scale's standard uncertainty: half of 4 % and 3 %/√3 (JCGM 100:2008, 4.3.4 and 4.3.7).
    const meter = 1 + Math.hypot(0.02, 0.03 / Math.sqrt(3)) * normal()
    const map = mapOf({ times, seed, camera, meter, missedPx: 0.7 })
    const fine = map.cells.filter((cell) => cell.state === 'fine')
    const hits = fine.filter((cell) => Math.abs(offBy(cell)) < 2 * cell.all).length
    inside += hits
    cells += fine.length
    least = Math.min(least, fine.length)
  }
  // Cells of one picture share most of what is open, so that whole pictures miss together. 95 % is what k = 2 stands for (JCGM 100:2008, G.6.6).
  expect(inside / cells).toBeGreaterThan(0.95)
  expect(least).toBeGreaterThan(150)
})

describe('a camera with a curve of its own', () => {
  const harder: Camera = { ...CAMERA, curve: (light) => light ** (1 / 1.3) }
  test('one exposure can’t tell, and says so', () => {
    const { exponent, scatter } = merged({ times: [1], seed: 2, camera: harder }).response
    expect(exponent).toMatchObject({ value: 1, u: expect.closeTo(0.16, 2) })
    expect(scatter).toBeNull()
  })
  test('two catch it and take it out', () => {
    const taken: Taken = { times: [1, 4], seed: 2, camera: harder }
    const { exponent } = merged(taken).response
    expect(Math.abs(exponent.value - 1)).toBeGreaterThan(2 * exponent.u)
    expect(Math.abs(exponent.value - 1.3)).toBeLessThan(2 * exponent.u)
    for (const cell of mapOf(taken).cells) expect(Math.abs(offBy(cell))).toBeLessThan(2 * cell.all)
  })
  test('the standard curve stays: two exposures narrow what is open', () => {
    const { exponent, scatter } = merged({ times: [1, 4], seed: 3 }).response
    expect(Math.abs(exponent.value - 1)).toBeLessThan(0.01)
    expect(exponent.u).toBeLessThan(0.04)
    expect(scatter).toBeLessThan(0.01)
  })
  test('one that is S-shaped', () => {
    // Smoothstep over the cube root: darker below, brighter above.
    const curve = (light: number) => {
      const v = Math.cbrt(Math.min(1, light))
      return (0.6 * v + 0.4 * v * v * (3 - 2 * v)) ** 3
    }
    const map = mapOf({ times: [1, 3, 9], seed: 4, camera: { ...CAMERA, curve } })
    const fine = map.cells.filter((cell) => cell.state === 'fine')
    const inside = fine.filter((cell) => Math.abs(offBy(cell)) < 2 * cell.all).length
    expect(inside / fine.length).toBeGreaterThan(0.95)
  })
})

test('burnt-out places are masked and never read; a shorter exposure fills them', () => {
  const taken: Taken = { times: [1], seed: 5, level: 3, meterAt: [600, -60] }
  const burnt = mapOf(taken)
  const { saturated } = maskedCells(burnt)
  expect(saturated).toBeGreaterThan(10)
  // Three times full scale at the peak: all that is brighter than a third of it. The camera's shading takes something off at its edge.
  for (const cell of burnt.cells) if (lux(cell.xMm, cell.yMm) > 904 / 2.9) expect(cell.state).toBe('saturated')
  expect(maskedCells(mapOf({ ...taken, times: [0.25, 1] })).saturated).toBe(0)
  // What was read is not the brightest: no peak, no angles, no lumens come of it.
  const set = pictureSet(burnt, { id: 'picture', distanceM: 6, zero: 'middle' })
  expect(set.picture?.burntOut).toBe(saturated)
  expect(measuredFigures({ sets: [set] })).toEqual([])
  const { mask } = merged(taken)
  const shares = maskedShares({ mask })
  expect(shares.saturated).toBeCloseTo(mask.filter((m) => m === MASK.saturated).length / mask.length, 12)
})

test('a lux reading where every picture is burnt out is refused', () => {
  const order = {
    merged: merged({ times: [1], seed: 5, level: 3 }),
    shading: cosineShading(26, 4 / 3),
    marks: CAMERA.marks,
  }
  const more = { widthMm: 2000, heightMm: 1500, distanceM: 6, cells: 21 }
  const at = (u: number, v: number) => mapWall({ ...order, ...more, reading: { at: [u, v], lx: 100 } })
  expect(at(0.45, 0.53)).toMatchObject({ ok: false, why: expect.stringContaining('burnt out in every picture') })
  expect(at(0.999, 0.5)).toMatchObject({ ok: false, why: expect.stringContaining('outside the picture') })
  const [a, b, c, d] = CAMERA.marks
  const crossed = [a, c, b, d].flatMap((m) => (m ? [m] : []))
  expect(mapWall({ ...order, ...more, marks: crossed, reading: { at: [0.2, 0.2], lx: 9 } }).ok).toBe(false)
})

describe('shading', () => {
  test('half of cos⁴ is taken out, by hand', () => {
    // Corner of a picture with f = 26 mm (of 36 × 24 mm): tan θ = 21.6333/26 = 0.83205, cos⁴ θ = 1/1.692308² = 0.349174; its root 0.590909.
    const { at, doubtAt } = cosineShading(26, 4 / 3)
    expect(at(1, 1)).toBeCloseTo(0.590909, 6)
    expect(at(0.5, 0.5)).toBe(1)
    // The whole span of the logarithm, 1.052184, over √12 (JCGM 100:2008, 4.3.8).
    expect(Math.abs(doubtAt(0, 1))).toBeCloseTo(1.052184 / Math.sqrt(12), 5)
  })
  test('a picture of an even field takes it out', () => {
    const camera: Camera = { ...CAMERA, cos4: 1 }
    const even = pictureOf(camera, () => 1, 0.6, 9)
    const { response } = merged({ times: [1], seed: 9, camera })
    const found = fieldShading(even, response)
    if (!found.ok) throw new Error(found.why)
    // By hand, as above: 0.349174 in the corner.
    expect(found.shading.at(0, 0)).toBeCloseTo(0.349174, 1)
    const map = mapOf({ times: [1, 4, 16], seed: 9, camera, shading: found.shading })
    for (const cell of map.cells) expect(Math.abs(offBy(cell))).toBeLessThan(0.06)
    expect(
      fieldShading(
        pictureOf(camera, () => 1, 2, 9),
        response,
      ).ok,
    ).toBe(false)
  })
})

describe('as a set of readings', () => {
  const map = mapOf({ times: [1, 4, 16], seed: 6 })
  const set = pictureSet(map, { id: 'picture', distanceM: 6, zero: 'brightest', meter: METER })

  test('figures with what the places share in them', () => {
    const figures = new Map(measuredFigures({ sets: [set] }).map((f) => [f.name, f]))
    // By hand: 904 lx · 6² at the brightest place; half of it (of the line's own brightest) at σ √(2 ln(900/448)) = 1.1812 σ, 354.4 mm across and 295.3 mm up.
    const deg = (mm: number) => (2 * Math.atan(mm / 6000) * 180) / Math.PI
    const beam = figures.get('beamAngleDeg')
    const peak = figures.get('peakIntensityCd')
    expect(Math.abs((peak?.value ?? 0) - 904 * 36)).toBeLessThan(2 * (peak?.u ?? 0))
    expect((peak?.u ?? 0) / (peak?.value ?? 1)).toBeLessThan(0.06)
    expect(Math.abs((beam?.value ?? 0) - (deg(354.4) + deg(295.3)) / 2)).toBeLessThan(2 * (beam?.u ?? 0))
    expect(beam?.u).toBeLessThan(0.5)
    // ∫ over the wall: 2π σ σ' 900 lx = 424.1 lm, and 4 lx on 1.905 m × 1.4 m; the beam's own tails beyond the wall are under 1 %.
    const lumens = figures.get('lumensOnWallLm')
    expect(Math.abs((lumens?.value ?? 0) - (424.1 + 4 * 1.905 * 1.4))).toBeLessThan(2 * (lumens?.u ?? 0))
    // One reading sets the scale: even by a perfect meter lumens are no better known than that, however many cells there are.
    const perfect = { calibrationPct: 0, spectralPct: 0, cosinePct: 0 }
    const { lumensLm } = readGrid({ ...set, meter: perfect, distanceDoubtMm: 0 })
    const { readPct = 0 } = set.picture ?? {}
    expect(readPct).toBeGreaterThan(2)
    expect((100 * (lumensLm?.u ?? 0)) / (lumensLm?.value ?? 1)).toBeGreaterThan(readPct)
  })

  test('the camera’s curve is open in the beam angle', () => {
    const angle = (curve: number) => {
      const rows = set.rows.map((row) => ({ ...row, shadePct: 0 }))
      const { beamDeg } = pictureAngles({ ...set, rows, picture: { readLx: 755, readPct: 0, curve, glareLx: 0 } })
      return beamDeg ?? { value: 0, u: 0 }
    }
    const { value, u } = angle(0.1)
    // By hand: a Gaussian to the power 1.1 is narrower by 1/√1.1, 4.65 %.
    expect(Math.sqrt(u ** 2 - angle(0).u ** 2) / value).toBeCloseTo(0.0465, 2)
  })

  test('zero in the middle of the marks, or where it is brightest', () => {
    const peakOf = ({ rows }: GridSet) => rows.reduce((a, b) => (b.lx > a.lx ? b : a))
    const middle = peakOf(pictureSet(map, { id: 'picture', distanceM: 6, zero: 'middle' }))
    // Half of a cell's side, 47.6 and 50 mm.
    expect(Math.abs(middle.xMm - X0)).toBeLessThan(48)
    expect(Math.abs(middle.yMm - Y0)).toBeLessThan(50)
    expect(Math.hypot(peakOf(set).xMm, peakOf(set).yMm)).toBeLessThan(60)
    expect(set.aimed).toBe('brightest')
  })

  test('what they share is nothing at the place of the reading, and counts for all at once', () => {
    const at: GridSet = {
      ...set,
      strayLx: 0,
      rows: [
        { xMm: 0, yMm: 0, lx: 100, doubtPct: 1, shadePct: 0 },
        { xMm: 0, yMm: 9, lx: 100 * Math.E, doubtPct: 1, shadePct: 3 },
      ],
      picture: { readLx: 100, readPct: 2, curve: 0.1, glareLx: 5 },
    }
    const [scale, curve, shade, glare] = pictureTerms(at)
    expect(scale).toEqual([0.02, 0.02])
    expect(curve).toEqual([0, expect.closeTo(0.1, 12)])
    expect(shade).toEqual([0, 0.03])
    // 5 lx of 271.8, less the 5 % that the scale has taken up: 0.018394 − 0.05.
    expect(glare).toEqual([0, expect.closeTo(-0.031606, 6)])
    expect(pictureTerms({ ...at, picture: undefined } as GridSet)).toEqual([])
    const exact = { calibrationPct: 0, spectralPct: 0, cosinePct: 0 }
    const alone = readGrid({ ...at, distanceDoubtMm: 0 }, exact).peakCd
    // By hand, %: √(1² + 2² + 10² + 3² + 3.1606²) = 11.1348; times the reading of class C's scale of zero.
    expect((alone?.u ?? 0) / (alone?.value ?? 1)).toBeGreaterThan(0.111)
  })

  test('a fit takes some hundred places, the lines through the zero among them', () => {
    expect(set.rows).toHaveLength(315)
    const rows = thinned(set)
    expect(rows.length).toBeLessThanOrEqual(121)
    const nearest = Math.min(...set.rows.map((r) => Math.abs(r.yMm)))
    expect(rows.filter((i) => Math.abs(set.rows[i]?.yMm ?? 9) === nearest).length).toBeGreaterThanOrEqual(10)
    const { picture: _, ...byHand } = set
    expect(thinned(byHand)).toHaveLength(315)
  })
})
