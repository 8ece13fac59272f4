// Light sent where it must end on a known line of the ledger.
import { describe, expect, test } from 'vitest'
import type { Lens, Profile } from '../../../src/lamp/schema.ts'
import { tallyLayout } from '../../../src/run/layout.ts'
import { FATES, type Fate, type Run } from '../../../src/run/types.ts'
import { expectValid, findRunFaults, LampFault } from '../../../src/run/validate.ts'
import { expectWithin } from '../../kit/expect.ts'
import {
  atAngle,
  deliveredShare,
  endShare,
  exitsOf,
  LAMBERTIAN,
  type OneEmitter,
  oneEmitter,
  traceHere,
  tube,
} from '../../kit/traceHere.ts'

const RAYS = 1 << 12
const exact = { abs: 1e-9, because: 'all of the light, or none' }
const ideal: Lens = { kind: 'ideal', zMm: 100, focalMm: 100, diameterMm: 60 }
const narrow: Profile = { kind: 'gaussian', fwhmDeg: 1 }

const LINES: [string, OneEmitter, Fate][] = [
  ['nothing in the way', {}, 'delivered'],
  ['emitted outside the tunnel’s wall', { sites: [{ xMm: 30, yMm: 0 }], heightMm: 5, tunnel: tube(20, 50) }, 'blocked'],
  [
    'emitted past the inlet, under the tunnel',
    { sites: [{ xMm: 30, yMm: 0 }], profile: narrow, tunnel: tube(20, 50, { zInMm: 5 }) },
    'leakedFaceGap',
  ],
  ['at a steep angle through the gap', { profile: atAngle(85), tunnel: tube(20, 50, { zInMm: 5 }) }, 'leakedFaceGap'],
  ['at a black wall', { profile: atAngle(60), tunnel: tube(20, 50) }, 'wall'],
  ['past the lens, no tunnel', { profile: atAngle(40), lens: ideal }, 'outsideLens'],
  ['between tunnel and lens', { profile: atAngle(45), lens: ideal, tunnel: tube(40, 30) }, 'outsideLens'],
  [
    'a collimator that passes nothing',
    {
      optic: {
        kind: 'collimator',
        id: 'o',
        name: '',
        exitDiameterMm: 5,
        heightMm: 3,
        fwhmDeg: 20,
        shape: 'cosine',
        efficiency: 0,
      },
    },
    'opticLoss',
  ],
]
test.each(LINES)('%s', (_, lamp, fate) => {
  const run = traceHere(oneEmitter(lamp), { rays: RAYS })
  expectWithin(endShare(run, fate).value, 1, exact)
  expect(findRunFaults(run)).toEqual([])
})

/** A window that reflects: index 50 sends 92 % back at normal incidence. */
const mirrorLens = (zMm: number): Lens => ({
  kind: 'solid',
  zMm,
  diameterMm: 200,
  radiusMm: 1e7,
  conic: 0,
  thicknessMm: 1,
  curved: 'target',
  material: 'crown',
})
const reflecting = (scene: { lensIndex: Float32Array }) => void scene.lensIndex.fill(50)

describe('light that the lens sends back', () => {
  test('onto a black face: lost on the lens’s line, seen on the face’s map', () => {
    const run = traceHere(oneEmitter({ profile: narrow, lens: mirrorLens(50) }), { rays: RAYS, edit: reflecting })
    const back = endShare(run, 'lensReturnedLost').value
    const at = tallyLayout(run.shape)
    let onFace = 0
    for (const t of run.tallies) for (let i = at.faceW; i < at.size; i++) onFace += t[i]!
    expect(back).toBeGreaterThan(0.8)
    expectWithin(onFace / run.rays, back, { rel: 1e-5, because: 'maps are sums in single precision' })
    expectWithin(endShare(run, 'face').value, 0, exact)
  })

  test('onto a white face and out again: more is delivered', () => {
    const out = (faceReflectance: number) =>
      deliveredShare(
        traceHere(oneEmitter({ profile: narrow, lens: mirrorLens(5), faceReflectance, faceSizeMm: 200 }), {
          rays: RAYS,
          edit: reflecting,
        }),
      ).value
    expect(out(0.98)).toBeGreaterThan(1.5 * out(0))
  })

  test('given up at the bounce limit: its own line, and the run says that it is invalid', () => {
    // Sent back at once into a long white tube, where it wanders.
    const lamp = oneEmitter({
      profile: narrow,
      heightMm: 1990,
      tunnel: tube(2, 2000, { reflectance: 1, specularShare: 0 }),
      lens: mirrorLens(2001),
    })
    const run = traceHere(lamp, { rays: RAYS, edit: reflecting })
    expect(endShare(run, 'limit').value).toBeGreaterThan(0.05)
    expect(findRunFaults(run).join()).toContain('bounce limit')
    // Its only fault: the lamp's, in words.
    expect(() => expectValid(run)).toThrow(LampFault)
    expect(() => expectValid(run)).toThrow(/^\d+(\.\d)? % of the light is reflected so often in the lamp/)
    // Not where another is found too, or where rounding lost as much.
    const layout = tallyLayout(run.shape)
    const worse = (edit: (t: Float64Array) => void) => {
      const tallies = run.tallies.map((t) => t.slice())
      for (const t of tallies) edit(t)
      return { ...run, tallies }
    }
    const [limit, lost] = [layout.fateW + FATES.indexOf('limit'), layout.fateW + FATES.indexOf('lost')]
    const rounded = worse((t) => {
      t[lost] = t[limit]! / 2
      t[limit]! -= t[lost]!
    })
    expect(() => expectValid(rounded)).toThrow(/^The run is invalid: .* lost to rounding/)
    expect(() => expectValid(worse((t) => (t[layout.fateW]! += t[layout.emitted]!)))).toThrow(/^The run is invalid: /)
  })
})

test('roulette takes as much as it gives: its line is nought within its error', () => {
  const lamp = oneEmitter({
    profile: LAMBERTIAN,
    source: { shape: 'disc', diameterMm: 20 },
    tunnel: tube(10, 100, { reflectance: 0.5 }),
  })
  const run = traceHere(lamp, { rays: 1 << 16 })
  const line = endShare(run, 'roulette')
  expect(line.se).toBeGreaterThan(0)
  expectWithin(line.value, 0, { sigmas: 4, se: line.se })
})

describe('the sun', () => {
  const onMap = (run: Run, from: number, to: number) =>
    run.tallies.reduce((sum, t) => sum + t.subarray(from, to).reduce((a, b) => a + b, 0), 0)
  test('straight in through an open tube onto the face: all of it', () => {
    const run = traceHere(oneEmitter({ tunnel: tube(20, 50) }), { rays: RAYS, sunTiltDeg: 0 })
    const at = tallyLayout(run.shape)
    // The sun's edge grazes the wall: 50 mm · tan 0.2666° of 20 mm.
    expect(onMap(run, at.faceW, at.size) / run.rays).toBeGreaterThan(0.98)
    expect(endShare(run, 'face').value).toBeGreaterThan(0.98)
  })
  test('aslant by 60° it stays on the wall', () => {
    const run = traceHere(oneEmitter({ tunnel: tube(20, 50) }), { rays: RAYS, sunTiltDeg: 75 })
    expectWithin(endShare(run, 'wall').value, 1, exact)
  })
  test('through a lens and past the tunnel: leaked at the lens’s gap', () => {
    const run = traceHere(oneEmitter({ lens: { ...ideal, diameterMm: 200 }, tunnel: tube(20, 60) }), {
      rays: RAYS,
      sunTiltDeg: 45,
    })
    expect(endShare(run, 'leakedLensGap').value).toBeGreaterThan(0.5)
    expect(exitsOf(run).every((e) => e.dz < 0)).toBe(true)
  })
  test('comes from where the tilt says: towards −x when the sun stands over +x', () => {
    const run = traceHere(oneEmitter({ lens: { ...ideal, focalMm: 1e9 } }), { rays: RAYS, sunTiltDeg: 30 })
    const mean = exitsOf(run).reduce((sum, e) => sum + e.dx, 0) / run.exits.count
    expectWithin(mean, -0.5, { abs: 1e-3, because: 'mean over the sun’s disc' })
  })
})
