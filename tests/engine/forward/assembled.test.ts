// Assembled lamps: a plain lamp taken as one gives the same light; ledgers close by part; nothing leaks between stretches and elements.
import assert from 'node:assert/strict'
import { describe, expect, test } from 'vitest'
import { traceRecorded } from '../../../src/engine/segments.ts'
import { inlineWorker, makePool } from '../../../src/engine/workers/pool.ts'
import { chooseShape } from '../../../src/job/beam/pilot.ts'
import type { Element, Lamp } from '../../../src/lamp/schema.ts'
import { gannetHead } from '../../../src/library/demos.ts'
import { overBatches } from '../../../src/run/batches.ts'
import { tallyLayout } from '../../../src/run/layout.ts'
import { absorbedPart, gapPart, PART_OUTSIDE, partCount, rimPart } from '../../../src/run/parts.ts'
import { LEAKED_SEGMENT } from '../../../src/run/segments.ts'
import { FATES, type Fate, type Run } from '../../../src/run/types.ts'
import { expectValid } from '../../../src/run/validate.ts'
import { assemblyOf } from '../../../src/scene/assemblyRows.ts'
import { compileSun } from '../../../src/scene/compile.ts'
import { amount } from '../../kit/amount.ts'
import { partShare, randomAssembled } from '../../kit/assembled.ts'
import { expectWithin, seeds } from '../../kit/expect.ts'
import { randomLamp } from '../../kit/randomLamp.ts'
import { tilted } from '../../kit/tiltedLamp.ts'
import {
  atAngle,
  deliveredShare,
  endShare,
  oneEmitter,
  sceneOf,
  traceHere,
  traceScene,
  tube,
} from '../../kit/traceHere.ts'

const lines = (run: Run) => FATES.map((_, i) => run.tallies.reduce((sum, t) => sum + t[i]!, 0))

describe('a plain lamp as an assembly: ray by ray the same', () => {
  const lamps: [string, Lamp, number | undefined][] = [
    ['gannet-head', gannetHead(), undefined],
    ['gannet-head in the sun', gannetHead(), 4],
    ...seeds(amount(2, 3)).map((seed): [string, Lamp, undefined] => [
      `on a wedge that stops light ${seed}`,
      tilted(randomLamp(seed), seed, 40),
      undefined,
    ]),
    ...seeds(amount(3, 6)).map((seed): [string, Lamp, undefined] => [`random ${seed}`, randomLamp(seed), undefined]),
  ]
  test.each(lamps)('%s', (_, lamp, sunTiltDeg) => {
    const scene = sceneOf(lamp)
    const shape = chooseShape(scene, lamp)
    const assembled = { ...scene, assembly: assemblyOf(lamp) }
    const parts = { stretches: lamp.tunnel ? 1 : 0, elements: lamp.lens ? 1 : 0 }
    const [a, b] =
      sunTiltDeg === undefined ? [scene, assembled] : [scene, assembled].map((s) => compileSun(s, lamp, sunTiltDeg))
    const plain = traceScene(a!, shape, { rays: 1 << 11 })
    const own = traceScene(b!, { ...shape, parts }, { rays: 1 << 11 })
    expectValid(own)
    for (const [i, weight] of lines(plain).entries())
      expectWithin(lines(own)[i]!, weight, { abs: 1e-5, because: 'rounding: places are counted from another origin' })
  })
})

test.each(seeds(amount(3, 8)))('a random assembly is valid, lit by its emitters and by the sun, seed %i', (seed) => {
  const lamp = randomAssembled(seed)
  const scene = sceneOf(lamp)
  const shape = chooseShape(scene, lamp)
  const elements = (lamp.elements?.length ?? 0) + (lamp.lens ? 1 : 0)
  const stretches = lamp.tunnel ? 1 + (lamp.tunnel.joints?.length ?? 0) : 0
  if (scene.assembly) expect(shape.parts).toEqual({ stretches, elements })
  for (const lit of [scene, compileSun(scene, lamp, 12, 70)])
    if (lit.emittedW > 0) expectValid(traceScene(lit, shape, { rays: 1 << 10 }))
})

const film = (zMm: number, diameterMm: number, over: Partial<Element> = {}): Element =>
  ({
    kind: 'diffuser',
    name: `Film at ${zMm}`,
    zMm,
    diameterMm,
    aperture: 'round',
    spreadDeg: 0,
    transmittance: 1,
    reflectance: 0,
    ...over,
  }) as Element

test('light that misses a further element is lost in the gap before it, forwards and back', () => {
  // From a point: a quarter of a Lambertian source lies within 30°.
  const cone = {
    ...oneEmitter({ source: { shape: 'disc', diameterMm: 0.001 } }),
    elements: [film(10, 10 * 2 * Math.tan(Math.PI / 3)), film(20, 20 * 2 * Math.tan(Math.PI / 6))],
  }
  const run = traceHere(cone, { rays: 1 << 13 })
  expectValid(run)
  for (const [part, share] of [
    [PART_OUTSIDE, 0.25],
    [gapPart(0, 0), 0.5],
  ] as const) {
    const got = partShare(run, part)
    expectWithin(got.value, share, {
      abs: 3.5 * got.se + 1e-3,
      because: 'standard errors; of even points they are too small',
    })
  }
  // A mirror in place of the second, with the first no larger than what it sends straight back would need.
  const back = {
    ...oneEmitter({ source: { shape: 'disc', diameterMm: 0.001 }, profile: atAngle(20) }),
    elements: [film(10, 10), film(20, 100, { transmittance: 0, reflectance: 1 } as Partial<Element>)],
  }
  const returned = traceHere(back, { rays: 1 << 10 })
  expectValid(returned)
  expectWithin(partShare(returned, gapPart(0, 0)).value, 1, {
    abs: 1e-12,
    because: 'it meets the plane at 10.9 mm of 5',
  })
  expectWithin(endShare(returned, 'lensReturnedLost').value, 1, { abs: 1e-12, because: 'an element sent it back' })
})

test('each element’s map holds what arrives on either of its faces', () => {
  // Through a film that passes all to a smaller one that throws a third straight back, onto a dark face.
  const lamp = {
    ...oneEmitter({ faceReflectance: 0 }),
    elements: [
      film(10, 200, { transmittance: 1, reflectance: 0 } as Partial<Element>),
      film(20, 30, { transmittance: 0.5, reflectance: 1 / 3 } as Partial<Element>),
      film(30, 400, { transmittance: 1, reflectance: 0 } as Partial<Element>),
    ],
  }
  const run = traceHere(lamp, { rays: 1 << 11 })
  expectValid(run)
  const at = tallyLayout(run.shape)
  const { n } = run.shape.elements!
  const share = (from: number, cells: number) =>
    run.tallies.reduce((sum, t) => sum + t.slice(from, from + cells).reduce((a, b) => a + b, 0), 0) / run.rays
  const first = share(at.lensW, run.shape.lens!.n ** 2)
  const [second, third] = [0, 1].map((i) => share(at.elementsW + i * n * n, n * n))
  const slack = { abs: 1e-6, because: 'maps are in single precision' }
  const once = 1 - partShare(run, PART_OUTSIDE).value
  const absorbed = partShare(run, absorbedPart(0, 1)).value
  expectWithin(absorbed, second! / 6, slack)
  // What the second has thrown back comes to the first a second time: all of it, and no more.
  expectWithin(first - once, second! - absorbed - third!, slack)
  expectWithin(third! / second!, 1 / 2, {
    abs: 0.06,
    because: 'each ray passes or comes back, by a draw of one in 737',
  })
  expect(run.shape.elements!.maps.map((m) => m.frame.originMm[2])).toEqual([20, 30])
})

test('tilted planes: the nearest ahead is met, and light that meets none leaves by the gap', () => {
  // Along the axis to a mirror tilted by 50°: thrown to the side at 100°, past everything.
  const lamp = {
    ...oneEmitter({
      source: { shape: 'disc', diameterMm: 0.001 },
      profile: { kind: 'table', thetaDeg: [0, 0.1], intensity: [1, 1] },
      faceSizeMm: 20,
    }),
    elements: [film(100, 80, { tiltXDeg: 50, transmittance: 0, reflectance: 1 } as Partial<Element>)],
  }
  const run = traceHere(lamp, { rays: 1 << 9 })
  expectValid(run)
  // It heads down by 10° from the horizontal and reaches z = 0 far beside the face.
  expectWithin(endShare(run, 'lensReturnedLost').value, 1, { abs: 1e-12, because: 'all of it' })
  const shape = run.shape.lens!
  expect(shape.frame?.originMm).toEqual([0, 0, 100])
})

test('a cover’s rim takes light that runs inside it to its edge', () => {
  const lamp = {
    ...oneEmitter({ source: { shape: 'disc', diameterMm: 0.001 }, profile: atAngle(60) }),
    elements: [
      {
        kind: 'cover',
        name: 'Cover',
        zMm: 10,
        diameterMm: 36,
        aperture: 'round',
        thicknessMm: 20,
        material: 'pmma',
      } as Element,
    ],
  }
  const run = traceHere(lamp, { rays: 1 << 10 })
  expectValid(run)
  // It meets the plate at 17.3 mm of 18 and goes on at 35.5°: all that enters (0.910 of it at 60°, n = 1.492) meets the rim.
  const rim = partShare(run, rimPart(0, 0))
  expectWithin(rim.value, 0.91, { abs: 0.03, because: 'Fresnel by draws, and index to three digits' })
  expectWithin(partShare(run, absorbedPart(0, 0)).value, 0, {
    abs: 0.01,
    because: 'a millimetre of a clear plastic; 25 mm would be an eighth',
  })
})

test('turning the whole lamp by a quarter leaves its figures', () => {
  const tunnel = {
    ...tube(15, 80, { reflectance: 0.8 }),
    sides: 4 as const,
    inHeightMm: 20,
    outHeightMm: 50,
    joints: [
      {
        zMm: 40,
        belowMm: 34,
        aboveMm: 26,
        belowHeightMm: 30,
        aboveHeightMm: 34,
        reflectance: 0.6,
        specularShare: 0.5,
        scatterDeg: 1,
      },
    ],
  }
  const piece = { aperture: 'rectangle', diameterMm: 90, heightMm: 60 } as const
  const cover = {
    ...piece,
    kind: 'cover',
    name: 'Cover',
    zMm: 130,
    thicknessMm: 4,
    material: 'pmma',
    tiltXDeg: 12,
    decentreXMm: 4,
  } as const
  const lens = {
    ...piece,
    kind: 'fresnel',
    name: 'Lens',
    zMm: 180,
    focalMm: 180,
    centreXMm: 15,
    thicknessMm: 2,
    pitchMm: 1,
    grooves: 'target',
    draftDeg: 3,
    tipShare: 0,
    material: 'pmma',
    designNm: 555,
  } as const
  const straight: Lamp = {
    ...oneEmitter({ tunnel, faceReflectance: 0.7, sites: [{ xMm: 5, yMm: -3 }] }),
    elements: [cover, lens],
  }
  // Rz(90°)·Rx(α) = Ry(α)·Rz(90°), and x, y to −y, x.
  const turnedTunnel = {
    ...tunnel,
    inMm: 20,
    outMm: 50,
    inHeightMm: 30,
    outHeightMm: 30,
    joints: [{ ...tunnel.joints[0]!, belowMm: 30, aboveMm: 34, belowHeightMm: 34, aboveHeightMm: 26 }],
  }
  const turned: Lamp = {
    ...straight,
    boards: straight.boards.map((b) => ({ ...b, turnDeg: 90 })),
    tunnel: turnedTunnel,
    elements: [
      { ...cover, tiltXDeg: 0, tiltYDeg: 12, turnDeg: 90, decentreXMm: 0, decentreYMm: 4 },
      { ...lens, turnDeg: 90 },
    ],
  }
  const [a, b] = [straight, turned].map((lamp) => traceHere(lamp, { rays: 1 << 14 }))
  for (const fate of [
    'delivered',
    'wall',
    'face',
    'outsideLens',
    'lensReturnedLost',
    'lensAbsorbed',
    'leakedLensGap',
  ] as Fate[]) {
    const [from, to] = [endShare(a!, fate), endShare(b!, fate)]
    expectWithin(to.value, from.value, { sigmas: 4, se: Math.hypot(from.se, to.se) })
  }
  expect(deliveredShare(a!).value).toBeGreaterThan(0.02)
})

test('segments: unit directions, none inside an element, and what leaves is what the ledger says', async () => {
  const lamp: Lamp = {
    ...oneEmitter({ tunnel: tube(20, 40, { reflectance: 0.9, outMm: 60 }) }),
    elements: [
      {
        kind: 'cover',
        name: 'Cover',
        zMm: 60,
        diameterMm: 80,
        aperture: 'square',
        thicknessMm: 10,
        material: 'pmma',
        tiltYDeg: 15,
      },
      film(100, 120, { spreadDeg: 5, transmittance: 0.7, reflectance: 0.2 } as Partial<Element>),
    ],
  }
  const scene = sceneOf(lamp)
  const { run, segments } = await traceRecorded(makePool([inlineWorker()]), scene, chooseShape(scene, lamp), {
    seed: 3,
    rays: 1 << 11,
  })
  const at = tallyLayout(run.shape).fateW
  const watts = (...names: Fate[]) =>
    names.reduce(
      (sum, name) => sum + overBatches(run, (t, _, wPerWeight) => wPerWeight * t[at + FATES.indexOf(name)]!).value,
      0,
    )
  let [beam, leaked] = [0, 0]
  for (let i = 0; i < segments.count; i++) {
    assert.ok(Math.abs(Math.hypot(segments.dx[i]!, segments.dy[i]!, segments.dz[i]!) - 1) < 1e-5)
    if (segments.lengthMm[i] === Number.POSITIVE_INFINITY) {
      if ((segments.flags[i]! & LEAKED_SEGMENT) === 0) beam += segments.watts[i]!
      else leaked += segments.watts[i]!
    }
    // The middle of a segment is in air: not within the plate's 10 mm behind its tilted front.
    const half = Math.min(segments.lengthMm[i]!, 1) / 2
    const [x, z] = [segments.xMm[i]! + half * segments.dx[i]!, segments.zMm[i]! + half * segments.dz[i]!]
    const depth = x * Math.sin(Math.PI / 12) + (z - 60) * Math.cos(Math.PI / 12)
    const y = segments.yMm[i]! + half * segments.dy[i]!
    assert.ok(Math.abs(y) > 40 || Math.abs(x) > 36 || depth < 0.01 || depth > 9.99, `${depth}`)
  }
  const close = { rel: 1e-4, because: 'single precision' }
  expectWithin(beam, watts('delivered', 'deliveredViaRiser'), close)
  expect(leaked).toBeGreaterThanOrEqual(
    watts('leakedFaceGap', 'leakedLensGap', 'outsideLens', 'behindFace') * (1 - 1e-4),
  )
})

test('a ledger whose parts don’t add up is a fault', () => {
  const lamp = { ...oneEmitter({}), elements: [film(10, 100)] }
  const run = traceHere(lamp, { rays: 64 })
  expectValid(run)
  const at = tallyLayout(run.shape)
  expect(at.partsLm - at.partsW).toBe(partCount({ stretches: 0, elements: 1 }))
  run.tallies[3]![at.partsW + PART_OUTSIDE]! += 0.5
  expect(() => expectValid(run)).toThrow('The parts of batch 4 do not add up')
})
