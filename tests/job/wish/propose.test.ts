// Wishes of the trade turned into lamps, each traced again with other random numbers and more rays: what was promised comes out within both ±.
import { describe, expect, test } from 'vitest'
import { plasticLimits } from '../../../src/checks/plastic.ts'
import { hotSunWm2 } from '../../../src/hazard/solar.ts'
import { FIRST_ANSWERS } from '../../../src/job/start/answers.ts'
import { traceCell } from '../../../src/job/sweep/cell.ts'
import { boardLamp } from '../../../src/job/wish/build.ts'
import { coolLamp, junctionWithin, lastsMinutes, massOf } from '../../../src/job/wish/cool.ts'
import type { KindId } from '../../../src/job/wish/kinds.ts'
import { judged, proposeKind } from '../../../src/job/wish/propose.ts'
import type { Proposal, SevereFinding } from '../../../src/job/wish/result.ts'
import { wishedCd } from '../../../src/job/wish/search.ts'
import { sunFindings, sunSafeLensMm } from '../../../src/job/wish/sun.ts'
import type { Wish } from '../../../src/job/wish/wish.ts'
import { wantedCd } from '../../../src/job/wish/wish.ts'
import { readLamp } from '../../../src/lamp/read.ts'
import type { Lamp } from '../../../src/lamp/schema.ts'
import { emitterById } from '../../../src/library/emitters.ts'
import { declinedWords } from '../../../src/report/wish.ts'
import { amount } from '../../kit/amount.ts'

/** Common practice, no source: what such lamps are asked to do. */
const WISHES: readonly { name: string; wish: Wish; kind: KindId }[] = [
  { name: 'hand searchlight', wish: { candela: 300_000, minutes: 10, widthMm: 200 }, kind: 'narrowCollimators' },
  {
    name: 'lens at hand',
    wish: { candela: 400_000, minutes: 10, lens: { focalMm: 500, sizeMm: 400 } },
    kind: 'denseLens',
  },
  {
    name: 'sign over a yard',
    wish: { lux: 100, distanceM: 10, sizeM: 2, minutes: 20, lengthMm: 500 },
    kind: 'collimatorsLens',
  },
  { name: 'searchlight of a metre', wish: { candela: 2e6, minutes: 10, lengthMm: 1200 }, kind: 'manyBoardsLens' },
  { name: 'far mark', wish: { candela: 1e6, minutes: 5, widthMm: 700 }, kind: 'denseLens' },
  { name: 'work place', wish: { lux: 300, distanceM: 3, sizeM: 2, minutes: 60 }, kind: 'narrowCollimators' },
  { name: 'climbing wall', wish: { lux: 50, distanceM: 30, sizeM: 10, minutes: 30 }, kind: 'manyBoardsLens' },
  { name: 'river bank', wish: { lux: 5, distanceM: 150, minutes: 15 }, kind: 'narrowCollimators' },
  { name: 'mast light', wish: { candela: 100_000, minutes: 120, massKg: 10 }, kind: 'collimatorsLens' },
  { name: 'stage spot', wish: { lux: 800, distanceM: 10, sizeM: 1.5, minutes: 30 }, kind: 'manyBoardsLens' },
]

describe.each(WISHES.slice(0, amount(1, WISHES.length)))('$name', ({ wish, kind }) => {
  test(`${kind}: as wished, a valid lamp, and a second trace agrees`, async () => {
    const outcome = await proposeKind(wish, kind, { seed: 1, rays: amount(1 << 13, 1 << 16) })
    if (!outcome.ok) throw new Error(`declined: ${JSON.stringify(outcome.declined)}`)
    const { proposal } = outcome
    expect(proposal.misses).toEqual([])
    // Of a lens only the sun is left, traced: too strong, or there is no such finding.
    expect(proposal.severe.map((f) => f.rule)).toEqual(proposal.lamp.lens ? ['sun-inside'] : [])
    for (const { title } of proposal.severe) expect(title).not.toContain('not traced')
    expect(readLamp(proposal.lamp)).toMatchObject({ ok: true })
    expect(proposal.fullMinutes ?? Infinity).toBeGreaterThanOrEqual(wish.minutes ?? 10)
    const again = await traceCell(proposal.lamp, { seed: 7, rays: amount(1 << 13, 1 << 19) })
    const figure =
      wish.lux === undefined ? 'axialIntensityCd' : wish.sizeM === undefined ? 'targetCentreLx' : 'targetMeanLx'
    const [a, b] = [proposal.figures[figure], again?.figures[figure]]
    if (!a || !b || !again) throw new Error(`no ${figure}`)
    // Four standard errors of the difference, and what rays of less than a bin tell at least.
    expect(Math.abs(a.value - b.value)).toBeLessThanOrEqual(4 * Math.hypot(a.se, b.se) + 1e-3 * b.value)
    expect(wishedCd(wish, again.figures)).toBeGreaterThan(0.97 * wantedCd(wish))
  })
})

test('only the sun in a lens is let through; any other severe finding declines the kind and is named', () => {
  const of = (rule: string): SevereFinding => ({ rule, title: `Of ${rule}.` })
  const [sun, front] = [of('sun-inside'), of('front-hot')]
  const left = (lens: boolean, severe: SevereFinding[]) => {
    const outcome = judged({ id: 'bareTunnel', name: 'A kind', lens }, { ...({} as Proposal), severe })
    return outcome.ok ? 'ok' : declinedWords(outcome.declined, 'cd')
  }
  expect(left(true, [sun])).toBe('ok')
  expect(left(false, [])).toBe('ok')
  expect(left(false, [sun])).toBe('every lamp of it that was tried has a severe finding. Of sun-inside.')
  expect(left(true, [sun, front])).toBe('every lamp of it that was tried has a severe finding. Of front-hot.')
})

test('a lamp that is too short for the light is declined, with what it would give', async () => {
  const outcome = await proposeKind({ candela: 5e6, lengthMm: 200 }, 'manyBoardsLens', { seed: 1, rays: 4096 })
  expect(outcome).toMatchObject({ ok: false, declined: { because: 'light' } })
  if (!outcome.ok) expect(outcome.declined.most).toBeLessThan(5e6)
})

// By hand: black plastic lights from so many times full sun on; a lens gathers (D/d)² times over a disc of d = 10 mm.
test('the widest lens that is safe in the sun, and the sun through one twice and half as wide', async () => {
  const answers = { ...FIRST_ANSWERS, boards: 1, tunnel: null, optic: 'bare' as const }
  const lampOf = (lensMm: number) => boardLamp({ ...answers, typed: { faceMm: 60, focalMm: 60, lensMm } })
  const lamp = lampOf(30)
  if (!lamp) throw new Error('no lamp')
  const widestMm = sunSafeLensMm(lamp)
  const times = plasticLimits(lamp.reading.ambientC).ignitesKWm2 / (hotSunWm2(lamp.reading.sunWm2) / 1000)
  expect(widestMm).toBeCloseTo(10 * Math.sqrt(times), 9)
  const severe = async (of: Lamp | null) =>
    of
      ? (await sunFindings(of, 1))
          .filter((f) => f.severity === 'severe')
          .map(({ rule, title }) => [rule, /not traced/.test(title)])
      : null
  expect(await severe(lampOf(Math.floor(0.5 * widestMm)))).toEqual([])
  expect(await severe(lampOf(Math.ceil(2 * widestMm)))).toEqual([['sun-inside', false]])
})

test('mass acts: the same light within a limit takes a fan and a smaller pack, and keeps its minutes', () => {
  const answers = { ...FIRST_ANSWERS, boards: 7, minutes: 10, tunnel: null, lens: false }
  const free = coolLamp({ candela: 1, minutes: 10 }, answers)
  if (!free) throw new Error('not cooled')
  const most = (0.6 * massOf(free)) / 1000
  const light = coolLamp({ candela: 1, minutes: 10, massKg: most }, answers)
  if (!light) throw new Error('not cooled within the mass')
  expect(massOf(light)).toBeLessThanOrEqual(1000 * most)
  expect([free.fans, light.fans?.count]).toEqual([null, expect.any(Number)])
  // Fans stand beside the fins, so they count in the width.
  expect(light.widthMm).toBeGreaterThanOrEqual(light.lamp.face.sizeMm + (light.fans?.fan.depthMm ?? Infinity))
  expect(light.supplyG).toBeLessThan(free.supplyG)
  expect(lastsMinutes(light.full)).toBeGreaterThanOrEqual(10)
  expect(light.lamp.boards).toEqual(free.lamp.boards)
})

test('no junction gets over its rated temperature within the minutes: more cooling comes first', () => {
  const rated = emitterById(FIRST_ANSWERS.emitter).ratedJunctionC
  for (const currentA of [1.3, 2]) {
    const answers = { ...FIRST_ANSWERS, boards: 1, minutes: 10, tunnel: null, lens: false, typed: { currentA } }
    const cooled = coolLamp({ candela: 1, minutes: 10 }, answers)
    expect(cooled && junctionWithin(cooled.full, 10)).toBeLessThanOrEqual(rated)
  }
})
