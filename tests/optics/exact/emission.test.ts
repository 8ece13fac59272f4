// Each number in (0, 1) put through its inverse transform by hand.
import { describe, expect, test } from 'vitest'
import { chooseWavelength, leaveEmitter, leaveSun, whichEmitter } from '../../../src/optics/emission.ts'
import * as E from '../../../src/optics/emitterRow.ts'
import * as KIND from '../../../src/optics/kindRow.ts'
import * as P from '../../../src/optics/params.ts'
import { DX, INDEX, LUM, NM_COUNT, QUANTILES, RAY_SIZE, WAVELENGTH, X, Y, Z } from '../../../src/optics/records.ts'
import { expectWithin } from '../../kit/expect.ts'
import { doubles } from '../../kit/lensBench.ts'
import { lightBelow, type MapRow, mapProfiles, type Table } from '../../kit/slowMap.ts'
import { turned, type V } from '../../kit/vectors.ts'

const series = { abs: 1e-8, because: 'the turn’s series, 4e-10, times some mm' }
const rounding = { abs: 1e-12, because: 'rounding' }
const ray = new Float64Array(RAY_SIZE)
/** emitter, u, v, polar, azimuth, wavelength */
const numbers = (u: number, v: number, polar: number, azimuth: number) =>
  Float64Array.of(0.5, u, v, polar, azimuth, 0.5)

describe('which emitter', () => {
  // Walker's table for shares ¼, ⅜, ¼, ⅛ of four: cells of ¼, worked by hand.
  const rows: [share: number, alias: number][] = [
    [1, 0],
    [1, 1],
    [0.5, 1],
    [0.5, 2],
  ]
  const emitters = doubles(4 * E.size)
  for (const [i, [share, alias]] of rows.entries()) {
    emitters[i * E.size + E.aliasShare] = share
    emitters[i * E.size + E.alias] = alias
  }
  test.each([
    [0.001, 0],
    [0.249, 0],
    [0.25, 1],
    [0.499, 1],
    [0.5, 2],
    [0.624, 2],
    [0.625, 1], // half of its cell is its own, [0, ½)
    [0.7499, 1],
    [0.75, 3],
    [0.874, 3],
    [0.876, 2],
    [0.9999, 2],
    [1, 2], // rounding: still in the last cell
  ])('%f gives %i', (u, which) => expect(whichEmitter(u, emitters, 4)).toBe(which))
  test('one alone', () => expect(whichEmitter(0.9, emitters, 1)).toBe(0))
})

interface Kind {
  disc?: boolean
  profile: number
  at: number
  rows?: number
}
function lamp(o: Kind, turn = 0.6) {
  const kinds = doubles(2 * KIND.size)
  const k = KIND.size
  kinds[k + KIND.disc] = o.disc ? 1 : 0
  kinds[k + KIND.halfX] = 2
  kinds[k + KIND.halfY] = 0.5
  kinds[k + KIND.z] = 1.25
  kinds[k + KIND.profile] = o.profile
  kinds[k + KIND.profileAt] = o.at
  kinds[k + KIND.profileRows] = o.rows ?? 0
  const emitters = doubles(2 * E.size)
  emitters[E.size + E.x] = 30
  emitters[E.size + E.y] = -20
  emitters[E.size + E.cos] = Math.cos(turn)
  emitters[E.size + E.sin] = Math.sin(turn)
  emitters[E.size + E.kind] = 1
  return (profiles: Float32Array, first: Float64Array) => leaveEmitter(ray, emitters, E.size, kinds, profiles, first)
}
const about = (v: V, turn = 0.6): V => turned(v, [0, 0, 1], turn)
const NONE = doubles(0)

describe('place', () => {
  test('rectangle: (2u − 1), (2v − 1) of the halves, turned', () => {
    for (const [u, v] of [
      [0.5, 0.5],
      [0.75, 0.5],
      [0.1, 0.9],
      [0.99, 0.01],
    ] as const) {
      lamp({ profile: 0, at: 0.5 })(NONE, numbers(u, v, 0.4, 0.3))
      const [x, y] = about([(2 * u - 1) * 2, (2 * v - 1) * 0.5, 0])
      for (const [k, value] of [30 + x, -20 + y, 1.25].entries()) expectWithin(ray[X + k]!, value, rounding)
    }
  })
  test('disc: R√u at 2πv', () => {
    for (const [u, v] of [
      [0.25, 0],
      [0.64, 0.3],
      [0.9, 0.8],
    ] as const) {
      lamp({ disc: true, profile: 0, at: 0.5 })(NONE, numbers(u, v, 0.4, 0.3))
      const [x, y] = about([
        2 * Math.sqrt(u) * Math.cos(2 * Math.PI * v),
        2 * Math.sqrt(u) * Math.sin(2 * Math.PI * v),
        0,
      ])
      for (const [k, value] of [30 + x, -20 + y, 1.25].entries()) expectWithin(ray[X + k]!, value, series)
    }
  })
})

function expectDirection(cos: number, turn: number): void {
  const sin = Math.sin(Math.acos(cos))
  const d = about([sin * Math.cos(2 * Math.PI * turn), sin * Math.sin(2 * Math.PI * turn), cos])
  for (const k of [0, 1, 2] as const) expectWithin(ray[DX + k]!, d[k], series)
}

describe('direction', () => {
  test('cosine powers: cosθ = u^(1/(m + 1))', () => {
    for (const [u, azimuth] of [
      [0.3, 0.1],
      [0.8, 0.6],
      [1e-6, 0.99],
    ] as const)
      for (const m of [1, 4]) {
        lamp({ profile: 0, at: 1 / (m + 1) })(NONE, numbers(0.5, 0.5, u, azimuth))
        expectDirection(u ** (1 / (m + 1)), azimuth)
      }
  })
  test('straight ahead by rounding: no NaN', () => {
    lamp({ profile: 0, at: -1e-17 })(NONE, numbers(0.5, 0.5, 0.5, 0.2))
    expect(ray[DX]! + ray[DX + 1]!).toBe(0)
  })
  // ∫ I dc = 1: c² rising to 1; and 2 falling to 0.
  const TABLES: Table[] = [
    [
      [0, 1],
      [0, 2],
    ],
    [
      [0, 1],
      [2, 0],
    ],
  ]
  test('tables: the light inside θ is u', () => {
    const { profiles, tables } = mapProfiles([], TABLES, 3)
    for (const [t, table] of TABLES.entries())
      for (const u of [0.01, 0.4, 0.95]) {
        lamp({ profile: 1, at: tables[t]! })(profiles, numbers(0.5, 0.5, u, 0.35))
        const c = 1 - ray[DX + 2]!
        expectWithin(lightBelow(table, c), u, rounding)
        expectDirection(1 - c, 0.35)
      }
  })
  const ROWS: MapRow[] = [
    { share: 0.25, table: 0, phi: 0.5, before: 2.5, after: 1.5 },
    { share: 0, table: 1, phi: 1.9, before: 1.4, after: 1 },
    { share: 0.5, table: 1, phi: 2, before: 1.5, after: 2.2 },
    { share: 0.25, table: 0, phi: 4.2, before: 2.2, after: 2.5 },
  ]
  const map = mapProfiles(ROWS, TABLES, 4)
  const emit = (polar: number, azimuth: number) =>
    lamp({ profile: 2, at: 4, rows: ROWS.length }, 0)(map.profiles, numbers(0.5, 0.5, polar, azimuth))
  test('maps: the row by its share, then the hat’s area below φ', () => {
    let begin = 0
    for (const row of ROWS) {
      for (const v of [0.01, 0.2, 0.4, 0.6, 0.8, 0.99]) {
        if (row.share === 0) continue
        emit(0.3, begin + v * row.share)
        expectWithin(lightBelow(TABLES[row.table]!, 1 - ray[DX + 2]!), 0.3, rounding)
        // φ on the line of angles, within the hat; area by its two triangles.
        let phi = Math.atan2(ray[DX + 1]!, ray[DX]!) - row.phi
        while (phi > row.after) phi -= 2 * Math.PI
        while (phi < -row.before) phi += 2 * Math.PI
        const width = row.before + row.after
        const area =
          phi < 0 ? (row.before + phi) ** 2 / row.before / width : 1 - (row.after - phi) ** 2 / row.after / width
        expectWithin(area, v, series)
      }
      begin += row.share
    }
  })
  test('a draw at a row’s begin is that row’s; a row of no light gives way to the next', () => {
    emit(0.3, 0.25) // rows 1 (no light) and 2 begin here
    expectWithin(Math.atan2(ray[DX + 1]!, ray[DX]!), 2 - 1.5, series)
  })
  test('what lies behind a map’s rows is not read', () => {
    const { profiles } = mapProfiles([], TABLES)
    const behind = doubles(profiles.length + 30)
    behind.set(profiles)
    behind.set([0, 0, 0.5, 1, 1], profiles.length) // one row, then another map's, which begin at 0
    lamp({ profile: 2, at: profiles.length, rows: 1 }, 0)(behind, numbers(0.5, 0.5, 0.3, 0.5))
    expectWithin(Math.atan2(ray[DX + 1]!, ray[DX]!), 0.5, series)
  })
  test('a row that rounding has left without light gives its middle', () => {
    const rows: MapRow[] = [{ share: 0, table: 0, phi: 1, before: 2, after: 2 }]
    const made = mapProfiles(
      [
        { ...rows[0]!, share: 1 },
        { ...rows[0]!, share: 0 },
      ],
      TABLES,
    )
    made.profiles[5] = 1 // the last row begins where all light ends
    lamp({ profile: 2, at: 0, rows: 2 }, 0)(made.profiles, numbers(0.5, 0.5, 0.3, 1))
    expectWithin(Math.atan2(ray[DX + 1]!, ray[DX]!), 1, series)
  })
  test('a draw past the last share by rounding: the hat’s end, no NaN', () => {
    lamp({ profile: 2, at: 4, rows: 4 }, 0)(map.profiles, numbers(0.5, 0.5, 0.3, 1 + 1e-12))
    const end = (4.2 + 2.5) % (2 * Math.PI)
    expectWithin(Math.atan2(ray[DX + 1]!, ray[DX]!), end, series)
  })
})

test('wavelength, index and lumens: straight between quantiles and table rows', () => {
  // Quantiles step by 0.25 nm from 500, tables are squares: chords between neighbours.
  const quantiles = doubles(QUANTILES + 4)
  for (let i = 0; i <= QUANTILES; i++) quantiles[3 + i] = i < 512 ? 390 + 0.25 * i : 518 + 0.5 * (i - 512)
  const squares = doubles(NM_COUNT)
  const cubes = doubles(NM_COUNT)
  for (let i = 0; i < NM_COUNT; i++) {
    squares[i] = i * i
    cubes[i] = i ** 3
  }
  for (const u of [0.01, 0.25, 0.5, 0.77, 0.9999]) {
    chooseWavelength(ray, Float64Array.of(0, 0, 0, 0, 0, u), quantiles, 3, squares, cubes)
    const nm = u < 0.5 ? 390 + 256 * u : 518 + 512 * (u - 0.5)
    expectWithin(ray[WAVELENGTH]!, nm, { abs: 1e-10, because: 'rounding' })
    const i = Math.min(Math.floor((nm - 380) / 5), NM_COUNT - 2)
    const f = (nm - 380) / 5 - i
    expectWithin(ray[INDEX]!, (1 - f) * i ** 2 + f * (i + 1) ** 2, { abs: 1e-8, because: 'rounding' })
    expectWithin(ray[LUM]!, (1 - f) * i ** 3 + f * (i + 1) ** 3, { abs: 1e-6, because: 'rounding' })
  }
})

test('beyond the tables’ ends the first and the last chord go on', () => {
  const line = doubles(NM_COUNT)
  for (let i = 0; i < NM_COUNT; i++) line[i] = 2 * i
  for (const nm of [370, 779, 780, 800]) {
    const quantiles = doubles(QUANTILES + 1).fill(nm)
    chooseWavelength(ray, Float64Array.of(0, 0, 0, 0, 0, 0.3), quantiles, 0, line, line)
    expect(ray[WAVELENGTH]).toBe(nm)
    expectWithin(ray[INDEX]!, (2 * (nm - 380)) / 5, rounding)
    expectWithin(ray[LUM]!, (2 * (nm - 380)) / 5, rounding)
  }
})

describe('the sun', () => {
  const tilt = 0.4
  const turn = 2.1
  const half = 0.05
  const p = doubles(P.size)
  p[P.sunSinTilt] = Math.sin(tilt)
  p[P.sunCosTilt] = Math.cos(tilt)
  p[P.sunAzimuth] = turn
  p[P.sunHalfAngle] = half
  p[P.sunRadius] = 40
  p[P.sunZ] = 120
  test('place: even over a disc or a square of this radius', () => {
    p[P.sunSquare] = 0
    leaveSun(ray, p, numbers(0.64, 0.3, 0.5, 0.5))
    for (const [k, v] of [32 * Math.cos(0.6 * Math.PI), 32 * Math.sin(0.6 * Math.PI), 120].entries())
      expectWithin(ray[X + k]!, v, rounding)
    p[P.sunSquare] = 1
    leaveSun(ray, p, numbers(0.75, 0.1, 0.5, 0.5))
    expectWithin(ray[X]!, 20, rounding)
    expectWithin(ray[Y]!, -32, rounding)
    expect(ray[Z]).toBe(120)
  })
  test('direction: even over the sun’s disc, the disc tilted about y, then turned about z; light comes from there', () => {
    for (const [u, v] of [
      [0, 0.2],
      [0.3, 0],
      [0.7, 0.3],
      [1, 0.8],
    ] as const) {
      leaveSun(ray, p, numbers(0.5, 0.5, u, v))
      // 1 − cosθ is even between 0 and 1 − cos(half).
      const cos = 1 - u * (1 - Math.cos(half))
      const sin = Math.sin(Math.acos(cos))
      const local: V = [sin * Math.cos(2 * Math.PI * v), sin * Math.sin(2 * Math.PI * v), cos]
      const to = turned(turned(local, [0, 1, 0], tilt), [0, 0, 1], turn)
      for (const k of [0, 1, 2] as const)
        expectWithin(ray[DX + k]!, -to[k], { abs: 1e-11, because: 'an arc cosine near 1' })
    }
  })
  test('darker towards its rim: light within the share ρ of its radius is (1 − u)ρ² + ⅔u(1 − μ³) of 1 − u/3', () => {
    const straight = p.slice()
    straight[P.sunSinTilt] = 0
    straight[P.sunCosTilt] = 1
    for (const u of [0.3, 0.6, 1]) {
      straight[P.sunLimb] = u
      const all = 20_000
      const squares = Array.from({ length: all }, (_, k) => {
        leaveSun(ray, straight, numbers(0.5, 0.5, (k + 0.5) / all, 0.3))
        return (1 + ray[DX + 2]!) / (1 - Math.cos(half))
      })
      for (const rho of [0.1, 0.3, 0.5, 0.8, 0.95]) {
        const expected = ((1 - u) * rho ** 2 + ((2 * u) / 3) * (1 - (1 - rho ** 2) ** 1.5)) / (1 - u / 3)
        const got = squares.filter((s) => s <= rho * rho).length / all
        expectWithin(got, expected, { abs: 2e-4, because: 'steps of 1/20,000, in two pieces' })
      }
      expect(Math.max(...squares)).toBeLessThanOrEqual(1 + 1e-9)
    }
  })
})
