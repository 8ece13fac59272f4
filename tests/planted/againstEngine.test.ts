// The own tracer and the program's forward engine on the same lamps: where both agree, a difference found later is the search's and not the
// model's.
import { describe, expect, test } from 'vitest'
import { makeKernel } from '../../src/engine/forward/kernel.ts'
import { chooseShape } from '../../src/job/beam/pilot.ts'
import type { Lamp, Lens } from '../../src/lamp/schema.ts'
import { type Fate as EngineFate, FATES, type Run } from '../../src/run/types.ts'
import { compileSun } from '../../src/scene/compile.ts'
import { expectWithin } from '../kit/expect.ts'
import { endShare, exitShare, sceneOf, traceHere } from '../kit/traceHere.ts'
import { ledgerOf } from './bench.ts'
import { fresnelLens, idealLens, innerGhostMm, lampOf, type Parts, solidLens } from './document.ts'
import type { Light } from './light.ts'
import { makeDice, makeRandom } from './random.ts'
import type { Vec } from './ray.ts'
import { makeTracer } from './tracer.ts'
import { measureAt, type Truth } from './truth.ts'

const LAMP: Light = { light: 'lamp' }
const DISC = { discMm: 10, seed: 1, pilotRays: 3000, mostRays: 100_000, wantedSe: 0.02 }
const dice = () => makeDice(makeRandom(7))
const grooved = (z: number, f: number, d: number, to: 'target' | 'source') => fresnelLens(dice(), z, f, d, to)
const mirror = { specularShare: 1, scatterDeg: 0 }

const lampWith = (parts: Partial<Parts>): Lamp =>
  lampOf({
    name: 'Test',
    kinds: [
      {
        source: { shape: 'rectangle', widthMm: 6, heightMm: 4 },
        profile: { kind: 'cosine', fwhmDeg: 100 },
        watts: 20,
        heightMm: 1,
      },
      {
        source: { shape: 'disc', diameterMm: 2 },
        profile: { kind: 'cosine', fwhmDeg: 120 },
        watts: 10,
        heightMm: 1,
        collimator: { exitDiameterMm: 20, heightMm: 12, fwhmDeg: 20, shape: 'gaussian' },
      },
    ],
    spots: [
      { xMm: 5, yMm: -8, turnDeg: 30 },
      { xMm: -20, yMm: 10, kind: 1, share: 0.7 },
    ],
    lens: null,
    faceSizeMm: 90,
    ...parts,
  })

const RAYS = 8000
const ENGINE_RAYS = 30_000

/** Own watts that end here, against the program's: the share of a ray lies in 0 to 1, its deviation is at most √(p (1 − p)). */
function expectSameShare(run: Run, own: Map<string, number>, ...fates: EngineFate[]): void {
  const theirs = endShare(run, ...fates)
  const mine = fates.reduce((sum, fate) => sum + (own.get(fate) ?? 0), 0)
  const p = Math.min(1, Math.max(mine, theirs.value, 3 / RAYS))
  const se = Math.hypot(theirs.se, Math.sqrt((p * (1 - p)) / RAYS)) + 1e-9
  expectWithin(mine, theirs.value, { sigmas: 4, se })
}

describe('ledgers', () => {
  const tube = { sides: 0, inMm: 90, outMm: 150, zInMm: 10, zOutMm: 180, reflectance: 0.9, ...mirror }
  const suns: [string, Lens, Parts['tunnel'], number][] = [
    ['Fresnel, grooves to the target, round mirror', grooved(195, 250, 160, 'target'), tube, 12],
    ['Fresnel, grooves to the source, square mirror', grooved(200, 260, 160, 'source'), { ...tube, sides: 4 }, 25],
    ['solid, curved to the target, hexagon', solidLens(195, 400, 150, 'target'), { ...tube, sides: 6 }, 5],
    ['solid, curved to the source, no tunnel', solidLens(260, 400, 150, 'source'), null, 30],
    ['ideal, round mirror', idealLens(195, 220, 150), tube, 18],
  ]
  test.each(suns)('sun: %s', (_, lens, tunnel, tiltDeg) => {
    const lamp = lampWith({ lens, tunnel: tunnel ?? null, faceReflectance: 0.5 })
    const own = ledgerOf(lamp, { light: 'sun', tiltDeg, azimuthDeg: 0 }, RAYS)
    const run = traceHere(lamp, { rays: ENGINE_RAYS, sunTiltDeg: tiltDeg })
    expectWithin(
      [...own.values()].reduce((a, b) => a + b, 0),
      1,
      { abs: 1e-9, because: 'the ledger closes' },
    )
    expectSameShare(run, own, 'delivered', 'deliveredViaRiser')
    for (const fate of FATES) {
      if (!/delivered|roulette|Returned/.test(fate)) expectSameShare(run, own, fate)
    }
  })
  const own: [string, Partial<Parts>][] = [
    ['Fresnel in a round mirror', { lens: grooved(195, 250, 160, 'target'), tunnel: tube }],
    ['solid in an octagon', { lens: solidLens(195, 400, 150, 'target'), tunnel: { ...tube, sides: 8 } }],
    ['Fresnel to the source, no tunnel', { lens: grooved(120, 150, 160, 'source') }],
    ['a mirror alone', { tunnel: tube }],
  ]
  test.each(own)('own light: %s', (_, parts) => {
    const lamp = lampWith({ ...parts, faceReflectance: 0.6 })
    const run = traceHere(lamp, { rays: ENGINE_RAYS })
    // What the lens has sent back stands on a line of its own in the program: only what leaves can be compared.
    expectSameShare(run, ledgerOf(lamp, LAMP, RAYS), 'delivered', 'deliveredViaRiser')
  })
})

/** kW/m² of the same disc from the program's exit rays. */
function discOf(run: Run, { at, along }: Pick<Truth, 'at' | 'along'>): { value: number; se: number } {
  const share = exitShare(run, ({ x, y, z, dx, dy, dz }) => passes([x, y, z], [dx, dy, dz], at, along))
  const scale = run.emittedW / 1000 / (Math.PI * 25e-6)
  return { value: share.value * scale, se: share.se * scale }
}

function passes(from: Vec, d: Vec, at: Vec, n: Vec): boolean {
  const dn = d[0] * n[0] + d[1] * n[1] + d[2] * n[2]
  if (dn <= 0) return false
  const p = [at[0] - from[0], at[1] - from[1], at[2] - from[2]] as const
  const t = (p[0] * n[0] + p[1] * n[1] + p[2] * n[2]) / dn
  return t > 0 && Math.hypot(t * d[0] - p[0], t * d[1] - p[1], t * d[2] - p[2]) <= 5
}

describe('irradiance of a disc', () => {
  test.each([
    ['an ideal lens', idealLens(100, 80, 90), 500],
    ['a Fresnel lens', grooved(100, 80, 90, 'target'), 400],
    ['a solid lens', solidLens(150, 120, 60, 'target'), 500],
  ] as const)('own light by %s', (_, lens, z) => {
    const lamp = lampWith({ lens })
    const at = [-5 * 0.8 * (z / lens.zMm - 1), 8 * 0.8 * (z / lens.zMm - 1), z] as const
    const truth = measureAt(makeTracer(lamp, LAMP), at, [0, 0, 1], DISC)!
    const theirs = discOf(traceHere(lamp, { rays: 60_000 }), truth)
    expect(theirs.value).toBeGreaterThan(0)
    expectWithin(truth.kWm2, theirs.value, { sigmas: 4, se: Math.hypot(truth.se, theirs.se) })
  })
  test.each([
    ['ideal', idealLens(300, 220, 100)],
    ['Fresnel', grooved(300, 220, 100, 'target')],
    ['solid', solidLens(300, 220, 100, 'source')],
  ] as const)('the sun through a lens, %s, tilted by 8°', (_, lens) => {
    const lamp = lampWith({ lens })
    const tan = Math.tan((8 * Math.PI) / 180)
    const at = [-210 * tan, 0, 90] as const
    const tracer = makeTracer(lamp, { light: 'sun', tiltDeg: 8, azimuthDeg: 0 })
    const truth = measureAt(tracer, at, [0, 0, -1], DISC)!
    const run = traceHere(lamp, { rays: 30_000, sunTiltDeg: 8 })
    const theirs = discOf(run, truth)
    expectWithin(truth.kWm2, theirs.value, { sigmas: 4, se: Math.hypot(truth.se, theirs.se) })
  })
  test.each(['target', 'source'] as const)('a ghost in front, curved or grooved to the %s', (side) => {
    // Crown glass absorbs nearly nothing: the program's ray then keeps its weight, which a retraced path doesn't tell.
    const lens = { ...grooved(400, 500, 200, side), material: 'crown' as const }
    const lamp = lampWith({ lens })
    const focal = side === 'target' ? 250 : innerGhostMm(500)
    const at = [0, 0, lens.zMm + lens.thicknessMm + 0.93 * focal] as const
    const tracer = makeTracer(lamp, { light: 'sun', tiltDeg: 0, azimuthDeg: 0 })
    const truth = measureAt(tracer, at, [0, 0, 1], DISC)!
    const theirs = ghostOf(lamp, truth)
    expect(theirs.value).toBeGreaterThan(1)
    expectWithin(truth.kWm2, theirs.value, { sigmas: 4, se: Math.hypot(truth.se, theirs.se) + 0.002 * theirs.value })
  })
})

/** The program's sun rays that leave to the front, by their paths' last segment. */
function ghostOf(lamp: Lamp, { at, along }: Truth): { value: number; se: number } {
  const scene = sceneOf(lamp)
  const sun = compileSun(scene, lamp, 0, 0, 0)
  const kernel = makeKernel(sun, chooseShape(scene, lamp), { seed: 1, plainRandom: false, exitsBelow: 0 })
  const each = 2500
  let hits = 0
  for (let batch = 0; batch < 16; batch++)
    for (let index = 0; index < each; index++) {
      let [before, last]: [Vec, Vec] = [
        [0, 0, 0],
        [0, 0, 0],
      ]
      kernel.retrace(batch, index, {
        point(x, y, z) {
          before = last
          last = [x, y, z]
        },
        stops: () => false,
        end(fate) {
          const d: Vec = [last[0] - before[0], last[1] - before[1], last[2] - before[2]]
          if (/^delivered/.test(FATES[fate]!) && passes(before, d, at, along)) hits++
        },
      })
    }
  const rays = 16 * each
  const scale = sun.emittedW / rays / 1000 / (Math.PI * 25e-6)
  return { value: hits * scale, se: Math.sqrt(hits) * scale }
}
