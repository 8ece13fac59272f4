// From the document to the tracer's figures, at what small faults put in by hand got past: half widths, radians, the sun's opening, optics of one
// emitter, the front of a tilted one. Closed forms.
import { describe, expect, test } from 'vitest'
import { mostSunKWm2 } from '../../src/job/beam/mostSun.ts'
import { canCompare, edgeTiltsDeg, type Seen, strongOf } from '../../src/job/beam/sunDirections.ts'
import { frontZMm } from '../../src/lamp/front.ts'
import { weldedModes } from '../../src/lamp/groups.ts'
import { placeEmitters } from '../../src/lamp/place.ts'
import type { Lamp, Mode, OpticType } from '../../src/lamp/schema.ts'
import { gannetHead } from '../../src/library/demos.ts'
import * as KIND from '../../src/optics/kindRow.ts'
import * as P from '../../src/optics/params.ts'
import { compile, compileSun } from '../../src/scene/compile.ts'
import { profileTable } from '../../src/scene/profileRows.ts'
import { expectWithin } from '../kit/expect.ts'

const SINGLE = { rel: 2e-6, because: 'single precision' }
const RAD = Math.PI / 180
const gannet = gannetHead()
const scene = (lamp: Lamp) => compile(lamp, { fluxLm: new Float64Array(placeEmitters(lamp).length).fill(1) })
const tunnel = {
  ...gannet.tunnel!,
  ...{ sides: 0, inMm: 100, outMm: 160, zInMm: 20, zOutMm: 220, reflectance: 0.8, specularShare: 0.9, scatterDeg: 3 },
}
const bare: Lamp = { ...gannet, tunnel: null, lens: null }

test('a tunnel that grows from 100 to 160 mm over 200 mm: each wall by 0.15; scatter 3°, 0.8 sent back, 0.9 of it as a mirror', () => {
  const { params } = scene({ ...bare, tunnel, face: { ...bare.face, reflectance: 0.7 } })
  const of = [P.tanFlare, P.wallScatter, P.wallRho, P.wallSpecular, P.faceRho].map((at) => params[at]!)
  for (const [i, value] of [0.15, 3 * RAD, 0.8, 0.9, 0.7].entries()) expectWithin(of[i]!, value, SINGLE)
})

describe('the sun’s opening: W of 1000 W/m², ten degrees off the axis', () => {
  const sun = (lamp: Lamp) => {
    const lit = { ...lamp, reading: { ...lamp.reading, sunWm2: 1000 } }
    return compileSun(scene(lit), lit, 10, 30)
  }
  const watts = (lamp: Lamp) => sun(lamp).emittedW / (1000 * Math.cos(10 * RAD))
  const ideal = (over: object) => ({ kind: 'ideal', focalMm: 500, zMm: 300, diameterMm: 300, ...over }) as Lamp['lens']
  test('half angle 0.2666°, its middle brighter; a round lens of 300 mm, a square one', () => {
    const { params } = sun({ ...bare, lens: ideal({}) })
    expectWithin(params[P.sunHalfAngle]!, 0.2666 * RAD, SINGLE)
    expectWithin(params[P.sunLimb]!, 0.6, SINGLE)
    expectWithin(watts({ ...bare, lens: ideal({}) }), (Math.PI / 4) * 0.09, SINGLE)
    const square = { ...gannet.lens!, aperture: 'square', diameterMm: 300 } as Lamp['lens']
    expectWithin(watts({ ...bare, lens: square }), 0.09, SINGLE)
  })
  test('a tunnel’s mouth: six flats 160 mm apart lie in a circle of 160/cos 30°; a rectangle of 160 × 80 mm', () => {
    const radius = 0.08 / Math.cos(30 * RAD)
    expectWithin(watts({ ...bare, tunnel: { ...tunnel, sides: 6 } }), Math.PI * radius ** 2, SINGLE)
    const rectangle = { ...tunnel, sides: 4, inHeightMm: 50, outHeightMm: 80 }
    expectWithin(watts({ ...bare, tunnel: rectangle }), 0.16 * 0.08, SINGLE)
  })
  test('a bare hexagon of 200 mm across flats lies within a circle of √2 · 100 mm', () => {
    const face = { ...bare.face, shape: 'hexagon' as const, sizeMm: 200 }
    expectWithin(watts({ ...bare, face }), Math.PI * 0.02, SINGLE)
  })
  test('a cover that leaves some of the lens bare lets the sun past it, a film too; one that hides all of it doesn’t', () => {
    const lens = ideal({})
    const pane = (kind: 'cover' | 'diffuser', diameterMm: number) =>
      ({
        ...{ kind, name: 'Pane', zMm: 320, diameterMm, thicknessMm: 3, material: 'pmma' },
        ...{ transmittance: 0.9, reflectance: 0.05, scatterDeg: 10 },
      }) as unknown as NonNullable<Lamp['elements']>[number]
    const area = (d: number) => (Math.PI / 4) * (d / 1000) ** 2
    for (const kind of ['cover', 'diffuser'] as const) {
      expectWithin(watts({ ...bare, lens, elements: [pane(kind, 200)] }), area(300), SINGLE)
      expectWithin(watts({ ...bare, lens, elements: [pane(kind, 320)] }), area(320), SINGLE)
    }
    // A cover that hides the film behind it and not the lens.
    const film = { ...pane('diffuser', 200), zMm: 310 }
    expectWithin(watts({ ...bare, lens, elements: [film, pane('cover', 250)] }), area(300), SINGLE)
    const sheet = { ...pane('cover', 400), aperture: 'rectangle', heightMm: 350 } as NonNullable<
      Lamp['elements']
    >[number]
    expectWithin(watts({ ...bare, lens, elements: [sheet] }), 0.4 * 0.35, SINGLE)
  })
  test('at most: all that falls on 80 mm over 10 mm, in the sun of a very clear day where the lamp’s own is weaker', () => {
    const lamp = { ...bare, lens: ideal({ diameterMm: 80 }), reading: { ...bare.reading, sunWm2: 500, hotDiscMm: 10 } }
    expectWithin(mostSunKWm2(lamp), 64 * 1.1, { rel: 1e-9, because: 'closed form' })
  })
  test('tilts at which the ray through the lens’s middle just meets and just misses an edge', () => {
    const face = { ...bare.face, shape: 'round' as const, sizeMm: 200 }
    const reading = { ...bare.reading, hotDiscMm: 10 }
    const at = (r: number, down: number) => Math.round((10 * Math.atan2(r, down)) / RAD) / 10
    const edges = (down: number) => [at(95, down), at(105, down)]
    expect(edgeTiltsDeg({ ...bare, face, reading, lens: ideal({ zMm: 200 }) })).toEqual(edges(200))
    // Steep ones too: 95 mm aside, 40 mm down.
    expect(edgeTiltsDeg({ ...bare, face, reading, lens: ideal({ zMm: 40 }) })).toEqual(edges(40))
    // Without a lens by the middle of the mouth.
    const mouth = edgeTiltsDeg({ ...bare, face, reading, tunnel })
    for (const tilt of edges(220)) expect(mouth).toContain(tilt)
  })
  test('directions are compared where the hottest spot is known to 15 %', () => {
    const seen = (se: number): Seen => ({
      ...{ tiltDeg: 0, azimuthDeg: 0, places: [] },
      spots: [{ kWm2: 1, se, xMm: 0, yMm: 0, zMm: 0, discMm: 10, tiltDeg: 0, lands: 'face' }],
    })
    expect([0.15, 0.16].map((se) => canCompare('inside', [seen(se)]))).toEqual([true, false])
  })
  test('read again are those whose upper end is half as strong as the strongest: 0.5, and 0.3 + 2.131 · 0.1', () => {
    const at = (azimuthDeg: number, kWm2: number, se = 0): Seen => ({
      ...{ tiltDeg: 10, azimuthDeg, places: [] },
      spots: [{ kWm2, se, xMm: 0, yMm: 0, zMm: 0, discMm: 10, tiltDeg: 10, lands: 'face' }],
    })
    const strong = strongOf([at(0, 1), at(30, 0.5), at(60, 0.49), at(90, 0.3, 0.1)], ['inside'])
    expect(strong.map((s) => s.azimuthDeg)).toEqual([0, 30, 90])
  })
})

describe('emitters', () => {
  const [type] = gannet.boardTypes
  const cup = (id: string, fwhmDeg: number): OpticType => ({
    ...{ kind: 'collimator', id, name: id, shape: 'gaussian', fwhmDeg, efficiency: 0.9 },
    ...{ exitDiameterMm: 20, heightMm: 15, turnDeg: 20 },
  })
  const two: Lamp = {
    ...bare,
    opticTypes: [cup('a', 10), cup('b', 30)],
    optic: 'a',
    boardTypes: [
      {
        ...type!,
        sites: [
          { xMm: 0, yMm: 0, turnDeg: 5 },
          { xMm: 30, yMm: 0 },
        ],
      },
    ],
    boards: [{ ...gannet.boards[0]!, xMm: 0, yMm: 0, turnDeg: 10, siteOptics: { 1: 'b' } }] as Lamp['boards'],
  }
  test('one emitter behind two optics is two kinds; an optic turns with site and board: 10° + 5° + 20°', () => {
    expect(scene(two).kinds.length).toBe(2 * KIND.size)
    expect(placeEmitters(two).map((p) => [p.optic.id, p.turnDeg])).toEqual([
      ['a', 35],
      ['b', 30],
    ])
  })
  test('the front is the tunnel’s mouth; of an emitter tilted by 30° its upper edge, h cos 30° + r sin 30°', () => {
    expect(frontZMm({ ...bare, tunnel })).toBe(220)
    const emitterTypes = bare.emitterTypes.map((e) => ({
      ...e,
      heightMm: 2,
      source: { shape: 'disc' as const, diameterMm: 6 },
    }))
    const tilted = {
      ...{ ...two, emitterTypes, opticTypes: [{ kind: 'bare' as const, id: 'a', name: 'a' }] },
      boardTypes: [{ ...type!, sites: [{ xMm: 0, yMm: 0 }] }],
      boards: [{ ...gannet.boards[0]!, xMm: 0, yMm: 0, turnDeg: 0, wedge: { tiltDeg: 30, axisDeg: 0 } }],
    } as Lamp
    expectWithin(frontZMm(tilted), 2 * Math.cos(30 * RAD) + 3 * 0.5, { rel: 1e-12, because: 'closed form' })
  })
  test('a table is flat before its first angle: ∫ I d(1 − cos θ) of 1 up to 20° is 1 − cos 20°', () => {
    const { weight } = profileTable({ kind: 'table', thetaDeg: [10, 20], intensity: [1, 1] })
    expectWithin(weight, 1 - Math.cos(20 * RAD), { rel: 1e-4, because: 'steps of the table' })
  })
})

test('with every group on a mode counts unless one of the lamp’s own is like it in currents and step-down', () => {
  const off: Mode = { id: 'a', name: 'A', share: 1, stepDown: null, groupsOff: ['g'] }
  const on = (over: Partial<Mode>): Mode => ({ id: 'b', name: 'B', share: 1, stepDown: null, ...over })
  const welded = (over: Partial<Mode>) => weldedModes({ modes: [off, on(over)] }).map((m) => m.name)
  expect(welded({})).toEqual([])
  expect(welded({ stepDown: { watch: 'time', afterS: 60, toShare: 0.1 } })).toEqual(['A, every group on'])
  expect(welded({ groupA: { g: 0.1 } })).toEqual(['A, every group on'])
  expect(welded({ share: 0.5 })).toEqual(['A, every group on'])
})
