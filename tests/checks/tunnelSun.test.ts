// Sun into lamps without a lens of their own: a tunnel that gathers it, a lens among the elements, and what doesn't gather it.
import { describe, expect, test } from 'vitest'
import { mouthRadiusMm } from '../../src/app/common/extent.ts'
import { CAUTIONS, cautionsFor } from '../../src/checks/cautions.ts'
import { checkSheet } from '../../src/checks/check.ts'
import { checkDanger } from '../../src/checks/danger.ts'
import { inlineWorker, makePool } from '../../src/engine/workers/pool.ts'
import { findWorstSun, type SunPlace } from '../../src/hazard/sun.ts'
import { chooseShape } from '../../src/job/beam/pilot.ts'
import { searchSuns } from '../../src/job/beam/sunSearch.ts'
import type { Element, Lamp, Tunnel } from '../../src/lamp/schema.ts'
import { concentratorTunnel } from '../../src/layout/reflectors.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { makeScheduler } from '../../src/num/scheduler.ts'
import { coverRule } from '../../src/report/danger.ts'
import { compile } from '../../src/scene/compile.ts'
import { expectWithin } from '../kit/expect.ts'
import { fakeDanger } from '../kit/fakeDanger.ts'
import { bare, lampOf, narrow } from '../kit/singleBoards.ts'

const mirror = { reflectance: 0.92, specularShare: 1, scatterDeg: 0 }
function concentrator(acceptanceDeg: number, finish = mirror): Tunnel {
  const made = concentratorTunnel({ acceptanceDeg, inMm: 40, zInMm: 5, keptShare: 1, sides: 0, finish })
  if (!made.ok) throw new Error(made.why)
  return made.tunnel
}
const alone = (tunnel: Tunnel, over: Partial<Lamp> = {}): Lamp => lampOf([[0, 0]], { tunnel, ...over })
const pane: Element = {
  ...{ kind: 'cover', name: 'Pane', zMm: 600, diameterMm: 300, aperture: 'round', thicknessMm: 3, material: 'float' },
}
const sheet = {
  state: 'settled',
  figures: {},
  hotSpots: {},
  sun: [],
  risks: [],
  patterned: false,
  variants: [],
} as const
const sunInside = (lamp: Lamp, sun: Parameters<typeof checkSheet>[1]['sun'] = []) =>
  checkSheet(lamp, { ...sheet, sun }).find((f) => f.rule === 'sun-inside')
/** As traced, the sun on the axis. */
async function onAxis(lamp: Lamp) {
  const pool = makePool([inlineWorker()], 1)
  try {
    const scene = compile(lamp, { fluxLm: new Float64Array(1) })
    const { points } = await searchSuns(
      pool,
      { lamp, scene, shape: chooseShape(scene, lamp) },
      { seed: 1, rays: 4096, tiltsDeg: [0], searched: [], insideOnly: true },
      makeScheduler(),
    )
    return findWorstSun(points)!
  } finally {
    pool.close()
  }
}
const kWm2In = (text: string) => Number(/([\d.]+) kW\/m²/.exec(text)?.[1])

describe('a compound parabolic concentrator without any lens', () => {
  test('is found by geometry before any sun is traced, and as hot at least as the trace has it', async () => {
    const lamp = alone(concentrator(15))
    const found = sunInside(lamp)
    expect(found).toMatchObject({ severity: 'severe' })
    expect(found!.title).toMatch(
      /^Sun into the tunnel: about [\d.]+ kW\/m² .* with the sun on the axis, up to [\d ]+ kW\/m² from any side \(by geometry; not traced yet\)\.$/,
    )
    const axis = await onAxis(lamp)
    expect(axis.kWm2).toBeGreaterThan(30)
    expect(kWm2In(found!.title)).toBeGreaterThan(0.95 * axis.kWm2)
    expect(kWm2In(found!.title)).toBeLessThan(3 * axis.kWm2)
  })
  test('so is one behind a flat cover, and what was traced then counts', () => {
    expect(sunInside(alone(concentrator(15), { elements: [pane] }))).toMatchObject({ severity: 'severe' })
    const spot = { kWm2: 290, se: 1, xMm: 0, yMm: 0, zMm: 5, discMm: 10, tiltDeg: 0, lands: 'board' } as const
    const found = sunInside(alone(concentrator(3)), [spot])
    expect(found).toMatchObject({ severity: 'severe' })
    expect(found!.title).toMatch(/^Sun into the lamp, 0° off its axis: up to 29\d kW\/m² on a board/)
  })
  test('a duller or a straight one gathers less; a white one nothing to speak of', () => {
    const at = (share: number) =>
      sunInside(alone(concentrator(15, { ...mirror, specularShare: share })))?.title ?? '0 kW/m²'
    expect(kWm2In(at(0.5))).toBeLessThan(kWm2In(at(1)))
    expect(sunInside(alone(concentrator(15, { ...mirror, specularShare: 0 })))).toBeUndefined()
    const straight = { ...mirror, sides: 0, inMm: 80, outMm: 80, zInMm: 0, zOutMm: 100 } as const
    expect(sunInside(alone(straight))).toBeUndefined()
    expect(sunInside(alone(concentrator(15), { reading: { ...lampOf([]).reading, sunWm2: 0 } }))).toBeUndefined()
  })
  test('words of the danger sheet name no lens where there is none', () => {
    const lamp = alone(concentrator(15))
    const place = (zone: SunPlace['zone']): SunPlace =>
      ({
        ...{ kWm2: 20, se: 0, xMm: 30, yMm: 0, zMm: 500, discMm: 10, nx: 0, ny: 0, nz: 1, zone, tiltDeg: 15 },
        ...{ azimuthDeg: 0, byDisc: [] },
      }) as unknown as SunPlace
    const found = checkDanger(lamp, {
      ...fakeDanger(gannetHead()),
      things: fakeDanger(lamp).things,
      sunPlaces: [place('front'), place('outside')],
    })
    const sunny = found.filter((f) => f.rule.startsWith('sun-') || f.rule === 'in-the-way')
    expect(sunny.map((f) => f.rule).sort()).toEqual([
      'in-the-way',
      'sun-beside',
      'sun-from-a-side',
      'sun-over-the-day',
      'sun-thrown-back',
    ])
    expect(sunny.map((f) => `${f.title} ${f.why} ${f.cure}`).filter((t) => /\blens\b/i.test(t))).toEqual([])
  })
})

describe('the caution about daylight', () => {
  const daylight = (lamp: Lamp) => cautionsFor(lamp).find((c) => c.id === 'daylight')?.text
  const ideal = { kind: 'ideal', name: 'Second', zMm: 100, focalMm: 100, diameterMm: 60 } as const
  test('follows what gathers the sun: a lens, one among the elements, a mirrored tunnel, small optics', () => {
    expect(daylight(lampOf([[0, 0]], { lens: ideal as never }))).toMatch(/^Cover the lens /)
    expect(daylight(lampOf([[0, 0]], { elements: [pane, ideal] }))).toMatch(/^Cover the lens /)
    expect(daylight(alone(concentrator(15)))).toMatch(/^Cover the front .* mirrored tunnel/)
    expect(daylight(lampOf([[0, 0]], { optic: 'narrow', opticTypes: [bare, narrow()] }))).toMatch(/small optics/)
    expect(coverRule(alone(concentrator(15)))).not.toMatch(/lens/)
  })
  test('isn’t there where nothing does: bare emitters, behind a flat cover, in a white tunnel; the others always are', () => {
    for (const lamp of [
      lampOf([[0, 0]]),
      lampOf([[0, 0]], { elements: [pane] }),
      alone(concentrator(15, { ...mirror, specularShare: 0 })),
    ]) {
      expect(daylight(lamp)).toBeUndefined()
      expect(coverRule(lamp)).toBeNull()
      expect(cautionsFor(lamp)).toEqual(CAUTIONS.filter((c) => c.id !== 'daylight'))
    }
  })
})

describe('a piece smaller than the mouth', () => {
  const tunnel: Tunnel = { ...mirror, sides: 0, inMm: 40, outMm: 80, zInMm: 5, zOutMm: 100 }
  const small = { kind: 'ideal', zMm: tunnel.zOutMm + 5, focalMm: 5000, diameterMm: 16 } as const
  test('lets the sun past: as hot inside as without it, not as little as through it', async () => {
    const [open, behind, through] = [
      await onAxis(alone(tunnel)),
      await onAxis(alone(tunnel, { lens: small })),
      await onAxis(alone(tunnel, { lens: { ...small, diameterMm: 100, focalMm: 5000 } })),
    ]
    expectWithin(behind.kWm2, open.kWm2, { sigmas: 4, se: Math.hypot(behind.se, open.se) })
    // Through a lens over all of the mouth it comes by one way only, at the same strength where the lens hardly bends it.
    expect(through.kWm2).toBeGreaterThan(0.5 * open.kWm2)
  })
  test('light leaves by the wider of the two', () => {
    expect(mouthRadiusMm(alone(tunnel, { lens: small }))).toBe(tunnel.outMm / 2)
    expect(mouthRadiusMm(alone(tunnel, { lens: { ...small, diameterMm: 100 } }))).toBe(50)
    expect(mouthRadiusMm(alone(tunnel, { elements: [{ ...pane, diameterMm: 10 }] }))).toBe(tunnel.outMm / 2)
    expect(mouthRadiusMm(lampOf([[0, 0]]))).toBeNull()
  })
})
