// The density by its definition: powers, straight lines between nodes, and for maps the sum of rows under hats on the endless line of angles.
import { describe, expect, test } from 'vitest'
import { profileDensity } from '../../../src/optics/density.ts'
import * as KIND from '../../../src/optics/kindRow.ts'
import { expectWithin } from '../../kit/expect.ts'
import { doubles } from '../../kit/lensBench.ts'
import { type MapRow, mapProfiles, slowDensity } from '../../kit/slowMap.ts'

const rounding = { rel: 1e-12, because: 'rounding' }
const AT = KIND.size

function kind(profile: number, at: number, rows = 0): Float32Array {
  const k = doubles(2 * KIND.size)
  k[AT + KIND.profile] = profile
  k[AT + KIND.profileAt] = at
  k[AT + KIND.profileRows] = rows
  return k
}

const at = (kinds: Float32Array, profiles: Float32Array, c: number, phi: number) => {
  const sin = Math.sqrt(c * (2 - c))
  return profileDensity(kinds, AT, profiles, sin * Math.cos(phi), sin * Math.sin(phi), 1 - c)
}

test('powers: (m + 1)/2π cosᵐθ', () => {
  for (const m of [0, 1, 2.5, 40])
    for (const cos of [0.1, 0.5, 0.9, 1])
      expectWithin(at(kind(0, 1 / (m + 1)), doubles(0), 1 - cos, 1), ((m + 1) / (2 * Math.PI)) * cos ** m, rounding)
})

test('a table: I(c)/2π between its nodes, 0 beyond the last', () => {
  const { profiles, tables } = mapProfiles(
    [],
    [
      [
        [0, 0.25, 0.5, 0.75],
        [2, 2, 0, 1],
      ],
    ],
    3,
  )
  const kinds = kind(1, tables[0]!)
  for (const [c, i] of [
    [0, 2],
    [0.1, 2],
    [0.25, 2],
    [0.3, 1.6],
    [0.4, 0.8],
    [0.5, 0],
    [0.6, 0.4],
    [0.7, 0.8],
    [0.75, 1],
    [0.7501, 0],
    [0.9, 0],
  ] as const)
    expectWithin(at(kinds, profiles, c, 2), i / (2 * Math.PI), { abs: 1e-12, because: 'rounding' })
})

test('close to the axis 1 − cosθ keeps its digits', () => {
  const { profiles, tables } = mapProfiles(
    [],
    [
      [
        [0, 1e-12],
        [0, 2e12],
      ],
    ],
  )
  const sin = 1e-6 // c = 5e-13
  expectWithin(
    profileDensity(kind(1, tables[0]!), AT, profiles, 0, sin, Math.sqrt(1 - sin * sin)) * 2 * Math.PI,
    1e12,
    { rel: 1e-9, because: 'sin⁴/8' },
  )
})

test('a table that rounding takes below 0 is dark there', () => {
  const { profiles, tables } = mapProfiles(
    [],
    [
      [
        [0, 1],
        [1, -1],
      ],
    ],
  )
  expect(at(kind(1, tables[0]!), profiles, 0.75, 0)).toBe(0)
})

const ROWS: [string, MapRow[]][] = [
  ['one row, all round', [{ share: 1, table: 0, phi: 0.7, before: 2 * Math.PI, after: 2 * Math.PI }]],
  [
    'three rows',
    [
      { share: 0.2, table: 0, phi: 0, before: 2.2, after: 1.3 },
      { share: 0.5, table: 1, phi: 1.3, before: 1.3, after: 2.7 },
      { share: 0.3, table: 0, phi: 4, before: 2.7, after: 2.2 },
    ],
  ],
  [
    'two rows, halves of different width',
    [
      { share: 0.625, table: 1, phi: -0.5, before: 4, after: 2 * Math.PI - 4 },
      { share: 0.375, table: 0, phi: 2 * Math.PI - 4.5, before: 2 * Math.PI - 4, after: 4 },
    ],
  ],
]

describe.each(ROWS)('a map of %s', (_, rows) => {
  test('share × hat × table, over all rows', () => {
    const tables = [
      [
        [0, 0.25, 0.5, 0.75],
        [2, 2, 0, 1],
      ],
      [
        [0, 0.5, 1],
        [0.5, 1.5, 0.5],
      ],
    ] as const
    // Another map's row behind them.
    const made = mapProfiles([...rows, { share: 1, table: 0, phi: 0, before: 3, after: 3 }], tables, 2)
    const kinds = kind(2, 2, rows.length)
    for (const c of [0.01, 0.3, 0.6, 0.74, 0.8])
      for (let phi = -3.1; phi < 3.14; phi += 0.17)
        expectWithin(at(kinds, made.profiles, c, phi), slowDensity(rows, tables, c, phi), {
          abs: 1e-12,
          because: 'rounding',
        })
  })
})
