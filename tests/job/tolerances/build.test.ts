// A lamp with deviations, by hand; and traced ones, whose candela follow flux and reflectance as they must.
import { describe, expect, test } from 'vitest'
import { inlineTracer } from '../../../src/job/sweep/inlineTracer.ts'
import { buildLamp, TOLERANCE_NAMES, thingsOf } from '../../../src/job/tolerances/build.ts'
import { deviationAt } from '../../../src/job/tolerances/design.ts'
import { type BuiltReading, lampCount, runTolerances, toleranceFault } from '../../../src/job/tolerances/run.ts'
import { placeEmitters } from '../../../src/lamp/place.ts'
import { readLamp } from '../../../src/lamp/read.ts'
import type { Lamp, ToleranceName } from '../../../src/lamp/schema.ts'
import { tolerances as toleranceSchema } from '../../../src/lamp/tolerances.ts'
import { benchCheck, gannetHead, stileLamp } from '../../../src/library/demos.ts'
import { TYPICAL_TOLERANCES } from '../../../src/library/typicalTolerances.ts'

const lamp = gannetHead()

test('every tolerance of the schema can be built, is typical of something, and fits its own limits', () => {
  expect(TOLERANCE_NAMES.toSorted()).toEqual(Object.keys(toleranceSchema.shape).toSorted())
  expect(readLamp({ ...lamp, tolerances: TYPICAL_TOLERANCES }).ok).toBe(true)
  const fault = readLamp({ ...lamp, tolerances: { aimDeg: { on: true, spread: 'measured', deviations: [] } } })
  expect(fault.ok || fault.why[0]).toContain('tolerances.aimDeg')
})

test('what a lamp has nothing of does not vary', () => {
  const of = (l: Lamp) => new Map(TOLERANCE_NAMES.map((name) => [name, thingsOf(l, name)]))
  const names = [
    'lensDistanceMm',
    'lensTiltDeg',
    'boardPlaceMm',
    'fwhmShare',
    'currentShare',
    'wallReflectance',
  ] as const
  const counts = (l: Lamp) => names.map((name) => of(l).get(name))
  expect(counts(lamp)).toEqual([1, 2, 38, 1, 19, 1])
  expect(counts(benchCheck())).toEqual([1, 2, 2, 0, 1, 0])
  expect(counts(stileLamp())).toEqual([0, 0, 2, 1, 1, 0])
  expect(of(lamp).get('aimDeg')).toBe(2 * placeEmitters(lamp).length)
  expect(of(benchCheck()).get('aimDeg')).toBe(0)
  const off = Object.fromEntries(TOLERANCE_NAMES.map((n) => [n, { on: false, spread: 'normal', plusMinus: 1 }]))
  expect(toleranceFault({ ...lamp, tolerances: off } as Lamp)).toContain('No tolerance is ticked')
})

test('deviations: two standard deviations, ends, and measured ones', () => {
  const at = (t: Parameters<typeof deviationAt>[0]) => [0.025, 0.5, 0.975].map((u) => deviationAt(t, u))
  // 95 % of a normal distribution lie within 1.95996 standard deviations (standard table).
  const [low = 0, middle, high = 0] = at({ on: true, spread: 'normal', plusMinus: 2 })
  expect([low, high, middle]).toEqual([expect.closeTo(-1.95996, 5), expect.closeTo(1.95996, 5), 0])
  expect(at({ on: true, spread: 'uniform', plusMinus: 2 })).toEqual([-1.9, 0, expect.closeTo(1.9, 12)])
  expect(at({ on: true, spread: 'measured', deviations: [0.4, -0.1, 0.2] })).toEqual([-0.1, 0.2, 0.4])
})

describe('built', () => {
  const built = (name: ToleranceName, d: number[], of: Lamp = lamp) => buildLamp(of, { [name]: d })
  test('nothing without deviations; the lens goes with the tunnel’s end', () => {
    expect(buildLamp(lamp, {})).toEqual({ lamp, boardFlux: null })
    const { lens, tunnel } = built('lensDistanceMm', [3]).lamp
    expect([lens?.zMm, tunnel?.zOutMm]).toEqual([1053, 1043])
  })
  test('a tilted lens stands, its tunnel as much shorter where it must', () => {
    for (const of of [lamp, { ...lamp, tunnel: lamp.tunnel && { ...lamp.tunnel, zOutMm: 1047 } }]) {
      const { lamp: tilted } = built('lensTiltDeg', [1.2, -0.8], of)
      expect(readLamp(tilted)).toMatchObject({ ok: true })
      expect([tilted.lens?.tiltXDeg, tilted.lens?.tiltYDeg]).toEqual([1.2, -0.8])
    }
    expect(built('lensTiltDeg', [0.2, 0]).lamp.tunnel).toEqual(lamp.tunnel)
  })
  test('boards, optics, emitters and wall', () => {
    expect(built('boardPlaceMm', [0.5, -0.25]).lamp.boards[0]).toMatchObject({
      xMm: (lamp.boards[0]?.xMm ?? 0) + 0.5,
      yMm: (lamp.boards[0]?.yMm ?? 0) - 0.25,
    })
    const optic = built('fwhmShare', [0.1]).lamp.opticTypes.find((o) => o.id === lamp.optic)
    expect(optic).toMatchObject({ fwhmDeg: expect.closeTo(13.2, 12) })
    const placed = placeEmitters(built('lotFluxShare', [-0.05]).lamp)[0]
    expect(placed?.emitter.fluxLm).toBeCloseTo(0.95 * (placeEmitters(lamp)[0]?.emitter.fluxLm ?? 0), 9)
    expect(built('wallReflectance', [0.03]).lamp.tunnel?.reflectance).toBeCloseTo(0.91, 12)
    expect(built('wallReflectance', [0.3]).lamp.tunnel?.reflectance).toBe(1)
    expect(built('currentShare', [0.02]).lamp.boards[0]?.currentA).toBeCloseTo(2.04, 12)
    const two = buildLamp(lamp, { boardFluxShare: [0.1], lotFluxShare: [0.1] })
    expect(two.boardFlux?.slice(0, 2)).toEqual([1.1, 1])
    const warm: Lamp = { ...lamp, heat: { kind: 'mode', mode: 'high', seconds: 60 } }
    expect(built('currentShare', [0.02], warm).boardFlux?.[0]).toBeCloseTo(1.02, 12)
  })
  test('an aim is about where the optic looks: straight on, its own aim, or the point that all look at', () => {
    const axis = (of: Lamp) => {
      const [, , x = 0, , , y = 0, , , z = 0] = placeEmitters(of)[0]?.rotation ?? []
      return [x, y, z]
    }
    const apart = (a: Lamp, b: Lamp) => {
      const [p, q] = [axis(a), axis(b)]
      return (
        (Math.acos(
          Math.min(
            1,
            p.reduce((sum, v, i) => sum + v * (q[i] ?? 0), 0),
          ),
        ) *
          180) /
        Math.PI
      )
    }
    const inward: Lamp = { ...lamp, aimAt: { xMm: 0, yMm: 0, distanceM: 1 } }
    const own: Lamp = { ...lamp, boards: lamp.boards.map((b) => ({ ...b, aim: { xDeg: 3, yDeg: 2 } })) }
    for (const of of [lamp, inward, own]) {
      expect(apart(of, built('aimDeg', [0, 0], of).lamp)).toBeLessThan(1e-5)
      expect(apart(of, built('aimDeg', [0.6, 0.8], of).lamp)).toBeCloseTo(1, 2)
    }
  })
})

test('traced: flux and candela go with the flux bin alike, the beam angle stays; each trace has its own rays', async () => {
  const only = (part: Partial<typeof TYPICAL_TOLERANCES>): Lamp => ({
    ...benchCheck(),
    tolerances: {
      ...Object.fromEntries(TOLERANCE_NAMES.map((n) => [n, { ...TYPICAL_TOLERANCES[n], on: false }])),
      ...part,
    },
  })
  const of = only({ lotFluxShare: { on: true, spread: 'measured', deviations: [0.25] } })
  expect(lampCount(of, { lamps: 30 })).toBe(28)
  const readings: BuiltReading[] = []
  await runTolerances([inlineTracer()], of, { lamps: 30, rays: 4096, seed: 1 }, [0, 1], (r) => readings.push(r))
  const [drawn, brighter] = readings
  for (const i of [0, 2] as const) {
    for (const name of ['emittedLm', 'fluxOutLm', 'axialIntensityCd'] as const)
      expect((brighter?.figures[name]?.[i] ?? 0) / (drawn?.figures[name]?.[i] ?? 1), name).toBeCloseTo(1.25, 9)
    expect(brighter?.figures.beamAngleDeg?.[i]).toBeCloseTo(drawn?.figures.beamAngleDeg?.[i] ?? 0, 9)
  }
  // More light of the same current is less heat: the junction is computed of each lamp.
  expect(brighter?.figures.junctionC?.[0]).toBeLessThan(drawn?.figures.junctionC?.[0] ?? 0)
  const [first, , second] = drawn?.figures.axialIntensityCd ?? []
  expect(first).not.toBe(second)
})

test('traced: of two boards each emits with its own factor', async () => {
  const [board] = benchCheck().boards
  const two: Lamp = { ...benchCheck(), boards: board ? [board, { ...board, id: 'other', xMm: board.xMm + 40 }] : [] }
  const { trace } = inlineTracer()
  const plain = await trace(two, { seed: 1, rays: 512 })
  const varied = await trace(two, { seed: 1, rays: 512, boardFlux: [1.5, 0.7] })
  const ratio = (varied?.figures.emittedLm?.value ?? 0) / (plain?.figures.emittedLm?.value ?? 1)
  expect(ratio).toBeCloseTo((1.5 + 0.7) / 2, 9)
})

// Two lenses in a row: each by its own numbers, the tunnel's end with the first alone.
test('further lenses vary by themselves; covers don’t', () => {
  const { lens } = lamp
  if (lens?.kind !== 'fresnel') throw new Error('no lens')
  const second = { ...lens, id: 'second', name: 'Second', zMm: lens.zMm + 200 }
  const cover = {
    ...{ id: 'c', name: 'Cover', kind: 'cover' as const, zMm: lens.zMm + 300, diameterMm: 400, thicknessMm: 3 },
    material: 'pmma' as const,
  }
  const third = { ...second, id: 'third', zMm: lens.zMm + 400 }
  const row = { ...lamp, elements: [cover, second, third] } as unknown as Lamp
  expect(
    (['lensDistanceMm', 'lensTiltDeg', 'lensDecentreMm', 'focalShare'] as const).map((n) => thingsOf(row, n)),
  ).toEqual([3, 6, 6, 3])
  const made = (name: ToleranceName, d: number[]) => buildLamp(row, { [name]: d }).lamp
  const moved = made('lensDistanceMm', [3, -2, 5])
  expect([moved.lens?.zMm, moved.elements?.map((e) => e.zMm)]).toEqual([
    lens.zMm + 3,
    [lens.zMm + 300, lens.zMm + 198, lens.zMm + 405],
  ])
  expect(made('lensTiltDeg', [0, 0, 1, -1]).elements?.[1]).toMatchObject({ tiltXDeg: 1, tiltYDeg: -1 })
  expect(made('focalShare', [0, 0.1]).elements?.[1]).toMatchObject({ focalMm: expect.closeTo(1.1 * lens.focalMm, 9) })
})
