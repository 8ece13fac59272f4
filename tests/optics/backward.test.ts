// The parts that only backward rays need: densities against the samplers that they belong to, and the weight at a scattering wall.
import { describe, expect, test } from 'vitest'
import { profileDensity } from '../../src/optics/density.ts'
import { seedStream } from '../../src/optics/draws.ts'
import { leaveEmitter } from '../../src/optics/emission.ts'
import * as Draw from '../../src/optics/firstDraws.ts'
import * as P from '../../src/optics/params.ts'
import { DX, DY, DZ, RAY_SIZE, W, X, Y, Z } from '../../src/optics/records.ts'
import { leaveWall } from '../../src/optics/wall.ts'
import { leaveWallBack, normalBelow, staysOff } from '../../src/optics/wallBack.ts'
import { expectWithin, seeds } from '../kit/expect.ts'
import { dice, randomProfile } from '../kit/randomLamp.ts'
import { oneEmitter, sceneOf } from '../kit/traceHere.ts'

const SIDE = 128
/** A map's rows change within the azimuth's number: finer. */
const ROUND = 2048

describe('density of directions', () => {
  test.each(seeds(12))('belongs to its sampler, and holds all: seed %i', (seed) => {
    const scene = sceneOf(oneEmitter({ profile: randomProfile(dice(seed)) }))
    const ray = new Float64Array(RAY_SIZE)
    const first = new Float64Array(6)
    // Moments by the sampler at the middles of a grid over its two numbers, and by the density over the hemisphere.
    const moments = (take: (add: (dx: number, dy: number, dz: number, weight: number) => void) => void) => {
      const sums = [0, 0, 0, 0, 0]
      take((dx, dy, dz, w) => {
        for (const [k, v] of [1, dx, dy, dz, dx * dx - dy * dy].entries()) sums[k]! += w * v
      })
      return sums
    }
    const drawn = moments((add) => {
      for (let i = 0; i < SIDE; i++)
        for (let j = 0; j < ROUND; j++) {
          first[Draw.polar] = (i + 0.5) / SIDE
          first[Draw.azimuth] = (j + 0.5) / ROUND
          leaveEmitter(ray, scene.emitters, 0, scene.kinds, scene.profiles, first)
          add(ray[DX]!, ray[DY]!, ray[DZ]!, 1 / SIDE / ROUND)
        }
    })
    const fine = 4 * SIDE
    const held = moments((add) => {
      for (let i = 0; i < fine; i++)
        for (let j = 0; j < SIDE; j++) {
          // θ even: narrow profiles and grazing light both want their own steps.
          const theta = ((i + 0.5) / fine) * (Math.PI / 2)
          const phi = ((j + 0.5) / SIDE) * 2 * Math.PI
          const [dx, dy, dz] = [Math.sin(theta) * Math.cos(phi), Math.sin(theta) * Math.sin(phi), Math.cos(theta)]
          const area = (Math.sin(theta) * Math.PI ** 2) / fine / SIDE
          add(dx, dy, dz, area * profileDensity(scene.kinds, 0, scene.profiles, dx, dy, dz))
        }
    })
    for (const [k, v] of held.entries()) expectWithin(v, drawn[k]!, { abs: 1e-3, because: 'steps of the two grids' })
  })
})

test('the normal distribution', () => {
  // Abramowitz & Stegun (1964), table 26.1.
  for (const [x, p] of [
    [0, 0.5],
    [1, 0.841344746],
    [2, 0.977249868],
    [-1, 0.158655254],
  ] as const)
    expectWithin(normalBelow(x), p, { abs: 1e-7, because: '26.2.17 is good to 7.5e-8' })
})

/** A wall x = 50 as a square tube has it. */
function wall(sigma: number, specular: number): Float32Array {
  const p = new Float32Array(P.size)
  p[P.hasTunnel] = 1
  p[P.sides] = 4
  p[P.rIn] = 50
  p[P.zOut] = 100
  p[P.wallScatter] = sigma
  p[P.wallSpecular] = specular
  return p
}

function towards(ray: Float64Array, cos: number): void {
  ray.fill(0)
  ray[X] = 50
  ray[Y] = 0
  ray[Z] = 50
  ray[DX] = cos
  ray[DZ] = Math.sqrt(1 - cos * cos)
  ray[W] = 1
}

describe('a scattering wall', () => {
  const ray = new Float64Array(RAY_SIZE)
  const stream = new Int32Array(3)
  const rays = 200_000

  test('stays off at the first try as often as the closed form says', () => {
    // A first try across the wall shows in a second pair of draws: the stream has moved on by more than two.
    for (const cos of [0.02, 0.1, 0.3]) {
      const p = wall(0.15, 1)
      let once = 0
      for (let i = 0; i < rays; i++) {
        seedStream(stream, 1, 0, i)
        const before = stream[2]!
        towards(ray, cos)
        leaveWall(ray, stream, p)
        if (stream[2]! - before === 2) once++
      }
      const share = staysOff(cos, 0.15)
      expectWithin(once / rays, share, { sigmas: 4, se: Math.sqrt((share * (1 - share)) / rays) })
    }
  })

  test.each([
    [0.1, 1, 0.05],
    [0.1, 0.7, 0.08],
    [0.2, 1, 0.3],
    [0.05, 0.5, 0.9],
  ])(
    'σ %f, specular %f, from cosine %f: what goes from band to band is the same both ways',
    (sigma, specular, width) => {
      // Even light on the wall from a band of directions i, cosθ_i dω_i, that leaves into a band o: by forward draws from band i, and by
      // backward draws from band o with their weights, ∫∫ f cosθ_i cosθ_o. Bands of cosine: [0, width] and [width, 1].
      const p = wall(sigma, specular)
      const pass = (backward: boolean, from: [number, number], to: [number, number]) => {
        let sum = 0
        let squares = 0
        for (let i = 0; i < rays; i++) {
          seedStream(stream, 2, backward ? 1 : 0, i)
          const u = (i + 0.5) / rays
          const cos = Math.sqrt(from[0] ** 2 + u * (from[1] ** 2 - from[0] ** 2)) // in proportion to cosθ dω
          towards(ray, cos)
          if (backward) leaveWallBack(ray, stream, p)
          else leaveWall(ray, stream, p)
          const out = -ray[DX]!
          const w = out >= to[0] && out < to[1] ? ray[W]! * (from[1] ** 2 - from[0] ** 2) : 0
          sum += w
          squares += w * w
        }
        return { value: sum / rays, se: Math.sqrt(squares / rays - (sum / rays) ** 2) / Math.sqrt(rays) }
      }
      const there = pass(false, [0, width], [width, 1])
      const back = pass(true, [width, 1], [0, width])
      expect(there.value).toBeGreaterThan(0)
      expectWithin(back.value, there.value, { sigmas: 4, se: Math.hypot(there.se, back.se) })
    },
  )
})
