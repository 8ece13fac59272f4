// A target that hardly a ray hits: I cos³θ / d² (inverse-square and cosine law), from intensities that differ from cell to cell.
import { describe, expect, test } from 'vitest'
import { zoneSr } from '../../src/beam/profile.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { readAimed } from '../kit/aimRun.ts'
import { expectWithin } from '../kit/expect.ts'
import { filledRun, smallShape } from '../kit/handRun.ts'

const float32 = { rel: 1e-6, because: 'single precision' }
const gannet = gannetHead()
const aimed = (widthM: number, heightM: number, distanceM = 10): Lamp => ({
  ...gannet,
  // The cone of 0.1 rad is a metre wide at 10 m: more than ten times so small a lens.
  lens: { ...gannet.lens!, diameterMm: 150 },
  target: { ...gannet.target, widthM, heightM, distanceM },
})

/** A cone of 0.1 rad with 50 cd; window cells of 0.2 with 100 + cell cd; bins beyond with 500 + bin cd. */
const shape = smallShape({ axialConeHalfRad: 0.1, fineBins: 1, coarseBins: 5 })
const widths = (Math.PI - 0.4) / 5
function far(axial: (b: number) => number = () => 50, rest = 1) {
  return filledRun(shape, (t, l, b) => {
    // A unit of a batch is 16 lm.
    t[l.axialLm] = (axial(b) * zoneSr(0, 0.1)) / 16
    for (let i = 0; i < 16; i++) {
      const theta = 0.2 * Math.hypot((i % 4) - 1.5, Math.floor(i / 4) - 1.5)
      t[l.windowLm + i] = (rest * (100 + i) * 0.04 * Math.sin(theta)) / theta / 16
    }
    for (let j = 0; j < 5; j++)
      t[l.profileLm + 1 + j] = (rest * (501 + j) * zoneSr(0.4 + widths * j, 0.4 + widths * (j + 1))) / 16
  })
}
/** lx at (x, y) for so many candela in that direction, 10 m away. */
const lx = (cd: number, x: number, y: number) => (cd * Math.cos(Math.atan(Math.hypot(x, y) / 10)) ** 3) / 100

describe('which intensity', () => {
  const reading = () => readAimed(far(), aimed(6, 3))
  const at = (column: number, row: number) => reading().map.values[15 * row + column]!
  /** Middle of cell k of 15 over `size`. */
  const middle = (k: number, size: number) => ((k + 0.5) / 15 - 0.5) * size

  test('the map: fifteen cells a side over the target', () => {
    const { map, absent, notes, centreRadiusM } = reading()
    const { values, ...rest } = map
    expect(rest).toEqual({ columns: 15, rows: 15, fromX: -3, toX: 3, fromY: -1.5, toY: 1.5, unit: 'm', of: 'lx' })
    expect(values.length).toBe(225)
    const why = 'Too few rays hit the target so far to find its darkest place.'
    expect([absent, centreRadiusM]).toEqual([{ targetMinLx: why, targetEvenness: why }, null])
    expect(notes[0]).toBe('Distances to the target are taken from the lamp’s front.')
    expect(notes[1]).toMatch(/^Too few exit rays hit the target: .* I cos³θ \/ d²/)
  })
  test('in the axial cone its own mean', () => {
    expectWithin(at(7, 7), lx(50, 0, 0), float32)
    // 0.8 m aside is 0.08 rad.
    expectWithin(at(9, 7), lx(50, 0.8, 0), float32)
  })
  test('then the window: column by x, row by y', () => {
    // 2.8 m: 0.273 rad, one cell and a third out.
    const [x, y] = [middle(14, 6), middle(13, 3)]
    expectWithin(at(14, 13), lx(100 + 4 * 2 + 3, x, y), float32)
    expectWithin(at(0, 13), lx(100 + 4 * 2 + 0, x, y), float32)
    expectWithin(at(14, 1), lx(100 + 4 * 1 + 3, x, y), float32)
    expectWithin(at(0, 1), lx(100 + 4 * 1 + 0, x, y), float32)
    // 1.2 m across, 0.12 rad: the inner cells.
    expectWithin(at(10, 9), lx(100 + 4 * 2 + 2, middle(10, 6), middle(9, 3)), float32)
    expectWithin(at(4, 5), lx(100 + 4 * 1 + 1, middle(4, 6), middle(5, 3)), float32)
  })
  test('its outer rows as well', () => {
    // 2.8 m up or down, 0.273 rad: rows 3 and 0 of the window; 0.4 m aside columns 2 and 1.
    const high = readAimed(far(), aimed(6, 6)).map.values
    const [x, y] = [middle(8, 6), middle(14, 6)]
    expectWithin(high[15 * 14 + 8]!, lx(100 + 4 * 3 + 2, x, y), float32)
    expectWithin(high[6]!, lx(100 + 4 * 0 + 1, x, y), float32)
  })
  test('beyond it the mean over azimuth: the next bin’s middle', () => {
    // Middles at 0.2, then at 0.674, 1.22, … 9.33 m are 0.751 rad and 5.33 m 0.490.
    const wide = readAimed(far(), aimed(20, 20)).map.values
    expectWithin(wide[15 * 7 + 14]!, lx(502, middle(14, 20), 0), float32)
    expectWithin(wide[15 * 7 + 11]!, lx(501, middle(11, 20), 0), float32)
    expectWithin(wide[15 * 11 + 7]!, lx(501, middle(11, 20), 0), float32)
  })
  test('centre and mean', () => {
    const { figures, map } = reading()
    expectWithin(figures.targetCentreLx!.value, 0.5, { rel: 1e-12, because: 'rounding' })
    const values = [...map.values]
    const mean = values.reduce((a, b) => a + b, 0) / 225
    expectWithin(figures.targetMeanLx!.value, mean, { rel: 1e-12, because: 'rounding' })
    expect([figures.targetMinLx, figures.targetEvenness]).toEqual([undefined, undefined])
  })
})

test('no centre where the lamp is no point beside the cone, nor where the cone is wider than the target', () => {
  const wide: Lamp = { ...aimed(6, 3), lens: { ...gannet.lens!, diameterMm: 210 } }
  for (const lamp of [wide, aimed(6, 1.9)]) {
    const { figures, absent } = readAimed(far(), lamp)
    expect(figures.targetCentreLx).toBeUndefined()
    expect(absent.targetCentreLx).toBe('Too few rays hit the middle of the target so far.')
    expect(figures.targetMeanLx).toBeDefined()
  }
})

test('the lamp’s width is its widest aperture’s, to the corners and wherever it stands: beside a cone of 1 m it may be 100 mm', () => {
  const rectangle = { ...gannet.lens!, aperture: 'rectangle', diameterMm: 180, heightMm: 120 } as Lamp['lens']
  // √(90² + 60²) = 108 mm; 500 × 350 mm reach 305.
  const large = { ...rectangle!, diameterMm: 500, heightMm: 350 } as Lamp['lens']
  const small = { ...gannet.lens!, aperture: 'round', diameterMm: 180 } as Lamp['lens']
  const film = { kind: 'diffuser', name: 'Film', zMm: 1100, diameterMm: 210, aperture: 'round' } as const
  const elements: Lamp['elements'] = [{ ...film, spreadDeg: 5, transmittance: 0.9, reflectance: 0 }]
  const of = (over: Partial<Lamp>) => readAimed(far(), { ...aimed(6, 3), tunnel: null, ...over }).figures.targetCentreLx
  expect(of({ lens: small })).toBeDefined()
  expect(of({ lens: rectangle })).toBeUndefined()
  expect(of({ lens: large })).toBeUndefined()
  expect(of({ lens: { ...small!, decentreXMm: 15 } })).toBeUndefined()
  expect(of({ lens: small, elements })).toBeUndefined()
  // Without any element the tunnel's mouth, to its corners; without one the face.
  const mouth = (outMm: number) => ({ lens: null, tunnel: { ...gannet.tunnel!, sides: 4 as const, inMm: 100, outMm } })
  expect([of(mouth(140)) === undefined, of(mouth(142)) === undefined]).toEqual([false, true])
  const face = (sizeMm: number) => ({ lens: null, face: { ...gannet.face, shape: 'square' as const, sizeMm } })
  expect([of(face(140)) === undefined, of(face(142)) === undefined]).toEqual([false, true])
})

test('errors are those of the axial cone', () => {
  // Batches of 45 and 55 cd: 5/√15, a fifteenth-root of a tenth: relative 0.1/√15.
  const { figures } = readAimed(
    far((b) => (b % 2 ? 55 : 45)),
    aimed(6, 3),
  )
  const relative = 0.1 / Math.sqrt(15)
  for (const name of ['targetCentreLx', 'targetMeanLx'] as const)
    expectWithin(figures[name]!.se / figures[name]!.value, relative, { rel: 1e-9, because: 'rounding' })
  expectWithin(figures.targetCentreLx!.value, 0.5, { rel: 1e-12, because: 'rounding' })
})

test('a dark axis: no centre, and a mean that may be anything', () => {
  const { figures, absent } = readAimed(
    far(() => 0),
    aimed(6, 3),
  )
  expect(figures.targetCentreLx).toBeUndefined()
  expect(absent.targetCentreLx).toBe('Too few rays hit the middle of the target so far.')
  expect(figures.targetMeanLx!.se).toBeGreaterThanOrEqual(0.1 * figures.targetMeanLx!.value)
})

test('a dark target', () => {
  const { figures, absent, map, notes, centreRadiusM } = readAimed(
    far(() => 0, 0),
    aimed(6, 3),
  )
  const why = 'No light falls on the target.'
  expect(figures).toEqual({})
  expect(absent).toEqual({ targetCentreLx: why, targetMeanLx: why, targetMinLx: why, targetEvenness: why })
  expect([map.values.length, notes.length, centreRadiusM]).toEqual([225, 2, null])
})
