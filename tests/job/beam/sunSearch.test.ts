// The search for the sun's worst direction, traced, where the direction is known by reasoning.
import { afterAll, describe, expect, test } from 'vitest'
import { inlineWorker, makePool } from '../../../src/engine/workers/pool.ts'
import { upperKWm2 } from '../../../src/hazard/discs.ts'
import { chooseShape } from '../../../src/job/beam/pilot.ts'
import { searchSuns } from '../../../src/job/beam/sunSearch.ts'
import type { Element, Lamp, Lens } from '../../../src/lamp/schema.ts'
import { gannetHead } from '../../../src/library/demos.ts'
import { makeScheduler } from '../../../src/num/scheduler.ts'
import { compile } from '../../../src/scene/compile.ts'
import { amount } from '../../kit/amount.ts'
import { expectWithin } from '../../kit/expect.ts'
import { lampOf } from '../../kit/singleBoards.ts'

const pool = makePool([inlineWorker()], 1)
afterAll(() => pool.close())

const GRID = amount([0, 20, 40], [0, 10, 20, 30, 45])

async function search(lamp: Lamp, tiltsDeg = GRID, climbs = tiltsDeg === GRID) {
  const scene = compile(lamp, { fluxLm: new Float64Array(1).fill(1) })
  const { worst } = await searchSuns(
    pool,
    { lamp, scene, shape: chooseShape(scene, lamp) },
    { seed: 1, rays: 2048, insideOnly: true, tiltsDeg, ...(!climbs && { searched: [] }) },
    makeScheduler(),
  )
  return worst[0]!
}

const RAD = Math.PI / 180
const wide = { ...gannetHead().face, shape: 'round' as const, sizeMm: 600 }
/** Cut for parallel light along its own axis: beside it a lens as fast blurs. */
const fast = { ...gannetHead().lens!, zMm: 400, focalMm: 300, diameterMm: 200, pitchMm: 2, draftDeg: 0 } as Lens

describe('the worst direction', () => {
  // Rx·Ry of (0, 0, 1) is (sin b, −sin a cos b, cos a cos b): the normal's tilt and azimuth. Neither is on the grid.
  const TURNS = [
    [16, -17],
    [-20, 20],
    [0, 25],
  ] as const
  test.each(TURNS.slice(0, amount(1, TURNS.length)))(
    'of a fast lens tilted by %i° about x and %i° about y lies along its own axis',
    async (tiltXDeg, tiltYDeg) => {
      const [a, b] = [tiltXDeg * RAD, tiltYDeg * RAD]
      const normal = [Math.sin(b), -Math.sin(a) * Math.cos(b), Math.cos(a) * Math.cos(b)] as const
      const place = await search(lampOf([[0, 0]], { face: wide, lens: { ...fast, tiltXDeg, tiltYDeg } as Lens }))
      const [t, z] = [place.tiltDeg * RAD, place.azimuthDeg * RAD]
      const cos = Math.sin(t) * (Math.cos(z) * normal[0] + Math.sin(z) * normal[1]) + Math.cos(t) * normal[2]
      expect(Math.acos(Math.min(1, cos)) / RAD).toBeLessThan(3)
      const straight = await search(lampOf([[0, 0]], { face: wide, lens: fast }), [0])
      // The same lens under the same sun.
      expectWithin(place.kWm2, straight.kWm2, { rel: 0.05, because: 'within 3° of its axis' })
    },
  )
  test('of a piece cut beside its optical axis: the axis is still the lens’s own, and the focus lies under it', async () => {
    const cut = { ...fast, centreXMm: 70, centreYMm: -60 } as Lens
    const place = await search(lampOf([[0, 0]], { face: wide, lens: cut }))
    expect(place.tiltDeg).toBeLessThan(3)
    expectWithin(Math.hypot(place.xMm - 70, place.yMm + 60), 0, { abs: 16, because: '300 mm times 3°' })
  })
})

describe('sun past a piece in front', () => {
  const film = (over: Partial<Element>): Element =>
    ({
      ...{ kind: 'diffuser', name: 'Film', zMm: 500, diameterMm: 200, aperture: 'round' },
      ...{ spreadDeg: 20, transmittance: 0.8, reflectance: 0.1 },
      ...over,
    }) as Element
  const tilts = [0, 30]
  test('onto a lens behind a film that stands before it: as hot as without the film', async () => {
    const lamp = lampOf([[0, 0]], { face: wide, lens: fast })
    const [open, behind] = [await search(lamp, tilts), await search({ ...lamp, elements: [film({})] }, tilts)]
    expectWithin(behind.kWm2, open.kWm2, { sigmas: 4, se: Math.hypot(behind.se, open.se) })
  })
  test('a film that lies on the lens dims it', async () => {
    const lamp = lampOf([[0, 0]], { face: wide, lens: fast })
    const [open, behind] = [await search(lamp, [0]), await search({ ...lamp, elements: [film({ zMm: 408 })] }, [0])]
    expect(upperKWm2(behind)).toBeLessThan(0.1 * open.kWm2)
  })
  test('onto a wide lens behind a narrow one', async () => {
    const narrow: Element = { kind: 'ideal', name: 'Narrow', zMm: 500, focalMm: 5000, diameterMm: 30 }
    const lamp = lampOf([[0, 0]], { face: wide, lens: fast })
    const [open, behind] = [await search(lamp, [0]), await search({ ...lamp, elements: [narrow] }, [0])]
    expectWithin(behind.kWm2, open.kWm2, { sigmas: 4, se: Math.hypot(behind.se, open.se) })
  })
})
