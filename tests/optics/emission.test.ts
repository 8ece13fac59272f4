import { describe, expect, test } from 'vitest'
import type { Profile } from '../../src/lamp/schema.ts'
import { seededRandom } from '../../src/num/rng.ts'
import { leaveEmitter } from '../../src/optics/emission.ts'
import * as E from '../../src/optics/emitterRow.ts'
import * as KIND from '../../src/optics/kindRow.ts'
import { DX, DY, DZ, RAY_SIZE, X, Y, Z } from '../../src/optics/records.ts'
import type { Scene } from '../../src/scene/scene.ts'
import { expectShares } from '../kit/chi2.ts'
import { expectWithin } from '../kit/expect.ts'
import { type OneEmitter, oneEmitter, sceneOf } from '../kit/traceHere.ts'

const DRAWS = 200_000

function sceneFor(o: OneEmitter, turnDeg = 0): Scene {
  const lamp = oneEmitter(o)
  lamp.boards[0]!.turnDeg = turnDeg
  return sceneOf(lamp)
}

/** Calls `take` with rays of emitter 0. */
function emit(scene: Scene, take: (ray: Float64Array) => void, draws = DRAWS, seed = 1): void {
  const random = seededRandom(seed)
  const ray = new Float64Array(RAY_SIZE)
  const first = new Float64Array(6)
  for (let i = 0; i < draws; i++) {
    for (let k = 0; k < 6; k++) first[k] = random()
    leaveEmitter(ray, scene.emitters, 0, scene.kinds, scene.profiles, first)
    take(ray)
  }
}

const turnShare = (x: number, y: number) => (Math.atan2(y, x) / (2 * Math.PI) + 1) % 1

describe('places', () => {
  test('a disc: even over its area, all round', () => {
    const cells = 16
    const byArea = new Float64Array(cells)
    const byTurn = new Float64Array(cells)
    let outside = 0
    emit(sceneFor({ source: { shape: 'disc', diameterMm: 6 }, heightMm: 2, sites: [{ xMm: 30, yMm: -20 }] }), (ray) => {
      const x = ray[X]! - 30
      const y = ray[Y]! + 20
      if (!(Math.hypot(x, y) <= 3 + 1e-6 && ray[Z] === 2)) outside++
      byArea[Math.min(cells - 1, Math.floor(((x * x + y * y) / 9) * cells))]!++
      byTurn[Math.min(cells - 1, Math.floor(turnShare(x, y) * cells))]!++
    })
    expect(outside).toBe(0)
    const even = new Array<number>(cells).fill(1 / cells)
    expectShares(byArea, even)
    expectShares(byTurn, even)
  })
  test('a rectangle, turned with its board', () => {
    const cells = 8
    const counts = new Float64Array(cells * cells)
    emit(sceneFor({ source: { shape: 'rectangle', widthMm: 4, heightMm: 1 } }, 30), (ray) => {
      const [c, s] = [Math.cos(Math.PI / 6), Math.sin(Math.PI / 6)]
      const u = (ray[X]! * c + ray[Y]! * s + 2) / 4
      const v = -ray[X]! * s + ray[Y]! * c + 0.5
      counts[Math.min(cells - 1, Math.floor(v * cells)) * cells + Math.min(cells - 1, Math.floor(u * cells))]!++
    })
    expectShares(counts, new Array<number>(cells * cells).fill(1 / (cells * cells)))
  })
})

const THETA = [0, 15, 30, 50, 80]
const MAPS: [string, Extract<Profile, { kind: 'map' }>][] = [
  [
    'four rows',
    {
      kind: 'map',
      thetaDeg: THETA,
      phiDeg: [0, 70, 180, 300],
      intensity: [
        [4, 3, 2, 1, 0],
        [4, 4, 0, 0, 0],
        [4, 1, 3, 1, 1],
        [4, 2, 2, 2, 0],
      ],
    },
  ],
  [
    'a dark row between',
    {
      kind: 'map',
      thetaDeg: THETA,
      phiDeg: [10, 100, 220],
      intensity: [
        [1, 2, 2, 1, 0],
        [0, 0, 0, 0, 0],
        [1, 1, 1, 1, 1],
      ],
    },
  ],
  ['one row: the same all round', { kind: 'map', thetaDeg: THETA, phiDeg: [40], intensity: [[3, 2, 2, 1, 0]] }],
  [
    'two rows',
    {
      kind: 'map',
      thetaDeg: THETA,
      phiDeg: [0, 180],
      intensity: [
        [1, 1, 1, 1, 0],
        [0, 0, 1, 1, 0],
      ],
    },
  ],
]

/** Bilinear in θ and φ, closed round the axis: as the document says. */
function mapAt(map: Extract<Profile, { kind: 'map' }>, thetaDeg: number, phiDeg: number): number {
  const at = (row: number[]) => {
    const last = map.thetaDeg.length - 1
    if (thetaDeg > map.thetaDeg[last]!) return 0
    const i = Math.min(last - 1, Math.max(0, map.thetaDeg.findIndex((t) => t >= thetaDeg) - 1))
    const f = (thetaDeg - map.thetaDeg[i]!) / (map.thetaDeg[i + 1]! - map.thetaDeg[i]!)
    return row[i]! + f * (row[i + 1]! - row[i]!)
  }
  const n = map.phiDeg.length
  for (let i = 0; i < n; i++) {
    const from = map.phiDeg[i]!
    const width = i + 1 < n ? map.phiDeg[i + 1]! - from : map.phiDeg[0]! + 360 - from
    const into = (((phiDeg - from) % 360) + 360) % 360
    if (into >= width) continue
    const f = into / width
    return (1 - f) * at(map.intensity[i]!) + f * at(map.intensity[(i + 1) % n]!)
  }
  throw new Error('no row')
}

describe.each(MAPS)('a map of intensities, %s', (_, map) => {
  test('draws follow it over θ and φ, turned with the board: χ² at 1 %', () => {
    const turnDeg = 25
    const [nTheta, nPhi] = [8, 12]
    const counts = new Float64Array(nTheta * nPhi)
    const shares = new Float64Array(nTheta * nPhi)
    const sub = 24
    for (let i = 0; i < nTheta * sub; i++)
      for (let k = 0; k < nPhi * sub; k++) {
        const theta = (80 * (i + 0.5)) / (nTheta * sub)
        const phi = (360 * (k + 0.5)) / (nPhi * sub)
        const flux = mapAt(map, theta, phi) * Math.sin((theta * Math.PI) / 180)
        shares[Math.floor(i / sub) * nPhi + Math.floor(k / sub)]! += flux
      }
    const total = shares.reduce((a, b) => a + b, 0)
    for (let i = 0; i < shares.length; i++) shares[i]! /= total
    emit(sceneFor({ profile: map }, turnDeg), (ray) => {
      const theta = Math.acos(ray[DZ]!) * (180 / Math.PI)
      const phi = turnShare(ray[DX]!, ray[DY]!) * 360 - turnDeg
      const row = Math.min(nTheta - 1, Math.floor((theta / 80) * nTheta))
      counts[row * nPhi + Math.floor((((phi + 360) % 360) / 360) * nPhi)]!++
    })
    // Cells that hold nothing must stay empty; the others go to the test.
    const held = [...shares.keys()].filter((i) => shares[i]! * DRAWS >= 20)
    const rest = [...shares.keys()].filter((i) => shares[i]! * DRAWS < 20)
    const restCount = rest.reduce((sum, i) => sum + counts[i]!, 0)
    const restShare = rest.reduce((sum, i) => sum + shares[i]!, 0)
    expect(restCount).toBeLessThan(40 + 2 * restShare * DRAWS)
    expectShares(
      held.map((i) => counts[i]!),
      held.map((i) => shares[i]! / (1 - restShare)),
    )
  })
})

test('directions have unit length and head up', () => {
  for (const profile of [
    { kind: 'cosine', fwhmDeg: 120 },
    { kind: 'gaussian', fwhmDeg: 30 },
  ] as const)
    emit(
      sceneFor({ profile }),
      (ray) => {
        expectWithin(Math.hypot(ray[DX]!, ray[DY]!, ray[DZ]!), 1, { abs: 1e-9, because: 'series of the turn' })
        expect(ray[DZ]!).toBeGreaterThanOrEqual(0)
      },
      2000,
    )
})

test('the records’ sizes hold what is used of them', () => {
  expect(Math.max(...Object.values(E))).toBe(E.size)
  expect(Math.max(...Object.values(KIND))).toBe(KIND.size)
})
