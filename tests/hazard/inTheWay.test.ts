import { describe, expect, test } from 'vitest'
import { coveredC, coveredLimitKWm2, lensUnderC, steadyTemperatureC } from '../../src/hazard/balance.ts'
import type { Front } from '../../src/hazard/front.ts'
import { layersOf, lightInFront, materialName, readHarmAt, readThing, USUAL_THINGS } from '../../src/hazard/inTheWay.ts'
import { MATERIAL_IDS, type ThingInTheWay } from '../../src/lamp/danger.ts'
import { lampSchema } from '../../src/lamp/schema.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { ignitionMaterial, ignitionSeconds } from '../../src/library/ignition.ts'
import { burnSeconds } from '../../src/library/skin.ts'
import { atDisc, MATERIALS, secondsToHarm, thresholds } from '../../src/library/thresholds.ts'
import { expectWithin } from '../kit/expect.ts'

const front = (factor = 1): Front => ({
  worst: null,
  curve: [
    { distanceMm: 1, kWm2: 20 * factor, se: 0, discMm: 10 },
    { distanceMm: 500, kWm2: 30 * factor, se: 0, discMm: 10 },
    { distanceMm: 2000, kWm2: 5 * factor, se: 0, discMm: 10 },
  ],
})

/** The same everywhere. */
const level = (kWm2: number): Front => ({
  worst: null,
  curve: [1, 10_000].map((distanceMm) => ({ distanceMm, kWm2, se: 0, discMm: 10 })),
})

const table = () => thresholds(undefined)

describe('thresholds', () => {
  test('every material has a source, and the published values of the ignition table where it is one', () => {
    const table = thresholds(undefined)
    expect(table.map((t) => t.id)).toEqual([...MATERIAL_IDS])
    for (const t of table) {
      expect(t.source.length, t.id).toBeGreaterThan(20)
      expect(t.changedFrom).toBeNull()
    }
    expect(MATERIALS.timber.kWm2).toBe(ignitionMaterial('wood-long').criticalKWm2)
    expectWithin(
      secondsToHarm(table.find((t) => t.id === 'paper')!, 20, 20)!,
      ignitionSeconds(ignitionMaterial('paper'), 20)!,
      { abs: 1e-9, because: 'the same formula' },
    )
  })
  test('a lamp’s own value is used, is marked, and names the published one', () => {
    const [skin] = thresholds({ thresholdsKWm2: { skin: 0.5 } })
    expect(skin).toMatchObject({ kWm2: 0.5, changedFrom: 1 })
    expect(skin!.source).toMatch(/^Set in this lamp’s document\. Published: 1 kW/)
    expect(thresholds({ thresholdsKWm2: { skin: 1 } })[0]!.changedFrom).toBeNull()
  })
  test('of the light only the share that is taken in counts', () => {
    const plastic = table().find((t) => t.id === 'black-plastic')!
    expect(secondsToHarm(plastic, 4, 20, 0.5)).toBe(secondsToHarm(plastic, 2, 20))
    expect(secondsToHarm(plastic, 4, 20, 0.1)).toBeNull()
    expect(secondsToHarm(plastic, (disc) => (disc === 7 ? 2 : 0), 20)).toBe(secondsToHarm(plastic, 2, 20))
  })
  test('skin with a threshold of its own below the table: the longest time of the table', () => {
    const [skin] = thresholds({ thresholdsKWm2: { skin: 0.5 } })
    expect(secondsToHarm(skin!, 0.7, 20)).toBeCloseTo(115, 9)
    expect(secondsToHarm(skin!, 2, 20)).toBeCloseTo(45, 9)
  })
  test('a document with danger choices but no thresholds has the published ones', () => {
    expect(thresholds({})).toEqual(table())
  })
  test('the document takes them, and refuses a material that isn’t in the table', () => {
    const lamp = { ...gannetHead(), danger: { thresholdsKWm2: { paper: 8 } } }
    expect(lampSchema.safeParse(lamp).success).toBe(true)
    expect(lampSchema.safeParse({ ...lamp, danger: { thresholdsKWm2: { butter: 8 } } }).success).toBe(false)
  })
})

describe('things in the way', () => {
  const table = thresholds(undefined)
  test('what falls on them is what the front has there; a hand is not given a temperature', () => {
    const [cover, bag, hotHand, wall] = USUAL_THINGS.map((t) => readThing(front(), t, table, 20))
    expect(cover!.kWm2).toBe(20)
    expect(cover!.settlesC).toBeGreaterThan(400)
    expect(cover!.secondsToHarm).toBeLessThan(10)
    expect(bag!.harm).toBe('catches fire')
    expect(hotHand).toMatchObject({ settlesC: null, secondsToIgnite: null })
    // 1 mm of ABS: 1.365 kJ/m²K · 280 K/20 kW/m². Thick, (π/4) · 0.232 · (280/20)², it would be 35.7 s.
    expectWithin(cover!.secondsToIgnite!, 19.11, { abs: 0.01, because: 'with pencil' })
    expect(readThing(front(0.32), USUAL_THINGS[0]!, table, 20).secondsToIgnite).toBeNull()
    expect(wall!.secondsToIgnite!).toBeGreaterThan(wall!.secondsToHarm!)
    expect(wall!.kWm2).toBeGreaterThan(20)
    expect(wall!.secondsToHarm).not.toBeNull()
  })
  test('more light never makes anything safer', () => {
    for (const thing of USUAL_THINGS) {
      let last = readThing(front(0.01), thing, table, 20)
      for (let factor = 0.02; factor < 10; factor *= 1.5) {
        const now = readThing(front(factor), thing, table, 20)
        expect(now.settlesC ?? 0).toBeGreaterThanOrEqual(last.settlesC ?? 0)
        expect(now.secondsToHarm ?? 1e9).toBeLessThanOrEqual(last.secondsToHarm ?? 1e9)
        last = now
      }
    }
    for (const id of MATERIAL_IDS) {
      const t = table.find((row) => row.id === id)!
      let last = Number.POSITIVE_INFINITY
      for (let q = 0.1; q < 500; q *= 1.3) {
        const now = secondsToHarm(t, q, 20) ?? Number.POSITIVE_INFINITY
        expect(now, `${id} at ${q}`).toBeLessThanOrEqual(last)
        last = now
      }
    }
  })
  test('times at a distance', () => {
    const near = readHarmAt(front(), 500, table, 20)
    const far = readHarmAt(front(), 20_000, table, 20)
    expect(near.kWm2).toBe(30)
    expect(near.seconds.paper).toBeLessThan(1)
    expect(near.skinBurnSeconds).toBeLessThan(3)
    expect(far.kWm2).toBeCloseTo(0.05, 9)
    expect(Object.values(far.seconds).every((s) => s === null)).toBe(true)
  })
})

describe('what lies on the lens', () => {
  const table = thresholds(undefined)
  const on = (material: ThingInTheWay['material'], over: Partial<ThingInTheWay> = {}) =>
    ({ name: 'x', material, distanceMm: 0, absorbs: 1, ...over }) satisfies ThingInTheWay
  const read = (thing: ThingInTheWay, kWm2: number, ambientC = 20) =>
    readThing(level(kWm2), thing, thresholds(undefined, ambientC), ambientC)

  test('takes in all of the light, whatever its colour; away from it only its share', () => {
    const white = read(on('black-plastic', { absorbs: 0.1 }), 2)
    expect(white.settlesC).toBe(coveredC(2, 20, 1))
    expect(white.shareOfLimit).toBeCloseTo(2 / 0.661, 9)
    const away = read(on('black-plastic', { absorbs: 0.1, distanceMm: 5.1 }), 2)
    expect(away.settlesC).toBe(steadyTemperatureC({ takenKWm2: 0.2, ambientC: 20, emissivity: 0.1 }))
    expect(away.shareOfLimit).toBeCloseTo(0.2 / 0.661, 9)
    expect(away.lensBehindC).toBeNull()
    expect(read(on('black-plastic', { absorbs: 0.1, distanceMm: 5 }), 2).lensBehindC).not.toBeNull()
  })
  test('cloth and film lie in folds, stiff things in one layer, skin in none', () => {
    const layers = (['dark-cloth', 'synthetic-cloth', 'polyethylene', 'paper', 'black-plastic', 'skin'] as const).map(
      (m) => layersOf({ material: m, distanceMm: 0 }),
    )
    expect(layers).toEqual([2, 2, 2, 1, 1, null])
    expect(layersOf({ material: 'dark-cloth', distanceMm: 5.1 })).toBeNull()
    expect(layersOf({ material: 'dark-cloth', distanceMm: 5 })).toBe(2)
  })
  test('a fold burns in less light than the table’s: its own balance decides', () => {
    const limit = read(on('dark-cloth'), 1).limitKWm2
    expect(limit).toBeCloseTo(coveredLimitKWm2(250, 20, 2), 1)
    expect(limit).toBeLessThan(0.75 * 4.59)
    expect(read(on('dark-cloth'), 1.01 * limit)).toMatchObject({ harm: 'catches fire' })
    expect(read(on('dark-cloth'), 1.01 * limit).secondsToHarm).not.toBeNull()
    expect(read(on('dark-cloth'), 0.99 * limit).secondsToHarm).toBeNull()
    expect(read(on('dark-cloth', { distanceMm: 100 }), 1.01 * limit).secondsToHarm).toBeNull()
    // Melting film burns later, by the balance of its ignition temperature.
    const film = coveredLimitKWm2(340, 20, 2)
    expect(read(on('polyethylene'), 1.01 * film).secondsToIgnite).not.toBeNull()
    expect(read(on('polyethylene'), 0.99 * film).secondsToIgnite).toBeNull()
    expect(read(on('black-plastic'), 6.52).secondsToIgnite).toBeNull()
    expect(read(on('black-plastic'), 6.54).secondsToIgnite).not.toBeNull()
  })
  test('a threshold of the lamp’s own stands as it was set', () => {
    const own = thresholds({ thresholdsKWm2: { 'dark-cloth': 6 } })
    expect(readThing(level(5), on('dark-cloth'), own, 20)).toMatchObject({ limitKWm2: 6, secondsToHarm: null })
  })
  test('the lens under it gets its heat', () => {
    const cover = read(on('black-plastic'), 3)
    expect(cover.lensBehindC).toBe(lensUnderC(cover.settlesC!, 20))
    expect(read(on('skin'), 3).lensBehindC).toBeNull()
  })
  test('cloth in a fold is hotter than a lid in the same light', () => {
    expect(read(on('dark-cloth'), 2).settlesC).toBe(coveredC(2, 20, 2))
    expect(read(on('paper'), 2).settlesC).toBe(coveredC(2, 20, 1))
  })
  test('warm air counts: in air of 80 °C soft PVC has no light left to bear', () => {
    expect(read(on('pvc'), 0, 80)).toMatchObject({ limitKWm2: 0, shareOfLimit: 1, secondsToHarm: 0 })
    expect(read(on('dark-cloth'), 1, 60).limitKWm2).toBeLessThan(read(on('dark-cloth'), 1, 20).limitKWm2)
  })
  test('timber: the lamp standard’s 90 °C as well as charring', () => {
    const wall = (kWm2: number) => read(on('timber', { distanceMm: 300 }), kWm2)
    expect(wall(0.85)).toMatchObject({ secondsTo90C: null, secondsToHarm: null })
    // Soft wood: (π/4) · 0.05852 · (70/1)² = 225 s.
    expectWithin(wall(1).secondsTo90C!, 225.2, { abs: 0.1, because: 'with pencil' })
    expect(wall(1).secondsToHarm).toBeNull()
    expect(wall(4.31).secondsToHarm).toBeGreaterThan(wall(4.31).secondsTo90C!)
    expect(read(on('paper', { distanceMm: 300 }), 3).secondsTo90C).toBeNull()
    const without = table.filter((t) => t.id !== 'lit-surface')
    expect(readThing(level(2), on('timber', { distanceMm: 300 }), without, 20).secondsTo90C).toBeNull()
  })
  test('near the limit is said: 4.02 of 4.3 is 93.5 %', () => {
    expectWithin(read(on('timber', { distanceMm: 300 }), 4.02).shareOfLimit, 0.93488, { abs: 1e-4, because: 'pencil' })
  })
})

describe('light on the lens', () => {
  test('what lies on it has at least what falls on the lens; what stands away from it has the curve alone', () => {
    const at = lightInFront(level(3), { onLensKWm2: 4 })
    expect([0, 1, 5, 5.1, 100].map((mm) => at(mm, 10))).toEqual([4, 4, 4, 3, 3])
    expect(lightInFront(level(3), { onLensKWm2: 2 })(1, 10)).toBe(3)
    expect(lightInFront(level(3))(1, 10)).toBe(3)
  })
  test('discs up to 3.5 mm have the hotter of both curves', () => {
    const at = lightInFront(level(3), { small: level(9) })
    expect([1, 3.5, 3.6, 10].map((disc) => at(300, disc))).toEqual([9, 9, 3, 3])
    expect(lightInFront(level(3), { small: level(2) })(300, 1)).toBe(3)
  })
})

describe('each material by its own disc', () => {
  // An image of 3.5 mm: over 10 mm it is (10/3.5)² weaker.
  const at = (_: number, discMm: number) => (discMm <= 3.5 ? 8 : 8 * (3.5 / discMm) ** 2)
  const table = thresholds(undefined)
  test('skin over 3.5 mm, paper over 1 mm, timber over 10 mm', () => {
    const on = (material: ThingInTheWay['material']) =>
      readThing(level(0.98), { name: 'x', material, distanceMm: 500, absorbs: 1 }, table, 20, at)
    expect(on('skin').kWm2).toBe(8)
    expect(on('paper').kWm2).toBe(8)
    expectWithin(on('timber').kWm2, 0.98, { abs: 1e-9, because: 'with pencil' })
    expect(on('paper').secondsToHarm).not.toBeNull()
    expect(on('timber').secondsToHarm).toBeNull()
  })
  test('times at a distance follow the discs; without them the curve holds for all', () => {
    const by = readHarmAt(level(0.98), 500, table, 20, at)
    expect(by.kWm2).toBe(0.98)
    expect(by.skinBurnSeconds).toBe(burnSeconds(8))
    expect(by.seconds.paper).not.toBeNull()
    expect(by.seconds.timber).toBeNull()
    expect(readHarmAt(level(0.98), 500, table, 20).seconds.paper).toBeNull()
  })
  test('from the discs measured at a place: that one, or the next smaller', () => {
    const measured = [
      { discMm: 10, kWm2: 1 },
      { discMm: 3.5, kWm2: 5 },
      { discMm: 1, kWm2: 20 },
    ]
    const of = atDisc(measured, 7)
    expect([1, 3.5, 7, 10, 12].map(of)).toEqual([20, 5, 5, 1, 1])
    expect(of(0.5)).toBe(20)
    expect(atDisc(measured.slice(0, 2), 7)(1)).toBe(7)
    expect(atDisc(measured.slice(0, 2), 3)(1)).toBe(5)
    expect([1, 3.5, 7, 10, 12].map(atDisc(measured.toReversed(), 7))).toEqual([20, 5, 5, 1, 1])
    expect(atDisc([], 7)(10)).toBe(7)
  })
  test('every material says its disc in its source', () => {
    for (const t of table) expect(t.source, t.id).toMatch(new RegExp(`Judged over ${t.discMm} mm`))
  })
})

describe('to the letter', () => {
  const table = thresholds(undefined)
  const thing = (over: Partial<ThingInTheWay>): ThingInTheWay => ({
    ...{ name: 'x', material: 'paper', distanceMm: 300, absorbs: 1 },
    ...over,
  })
  test('the usual things', () => {
    expect(USUAL_THINGS.map(({ material, distanceMm, absorbs }) => [material, distanceMm, absorbs])).toEqual([
      ['black-plastic', 0, 1],
      ['dark-cloth', 0, 1],
      ['skin', 100, 1],
      ['timber', 300, 1],
      ['polyethylene', 0, 1],
      ['skin', 0, 1],
    ])
    expect(new Set(USUAL_THINGS.map((t) => t.name)).size).toBe(6)
  })
  test('read where it stands, no nearer than 1 mm, over its material’s disc', () => {
    const calls: number[][] = []
    const at = (distanceMm: number, discMm: number) => {
      calls.push([distanceMm, discMm])
      return 2
    }
    for (const distanceMm of [0, 0.5, 1, 300]) readThing(level(1), thing({ distanceMm }), table, 20, at)
    const disc = table.find((t) => t.id === 'paper')!.discMm
    expect(calls).toEqual([1, 1, 1, 300].map((mm) => [mm, disc]))
    const harm = readHarmAt(level(3), 250, table, 20, at)
    expect(calls.slice(4).map(([mm]) => mm)).toEqual(new Array(calls.length - 4).fill(250))
    expect(harm).toMatchObject({ distanceMm: 250, kWm2: 3, skinBurnSeconds: burnSeconds(2) })
    expect(Object.keys(harm.seconds).sort()).toEqual([...MATERIAL_IDS].sort())
  })
  test('emissivity as the share taken in, from 0.05 to 0.9', () => {
    const settles = (absorbs: number) => readThing(level(2), thing({ absorbs }), table, 20).settlesC
    const by = (absorbs: number, emissivity: number) =>
      steadyTemperatureC({ takenKWm2: 2 * absorbs, ambientC: 20, emissivity })
    expect(settles(0.01)).toBe(by(0.01, 0.05))
    expect(settles(0.5)).toBe(by(0.5, 0.5))
    expect(settles(1)).toBe(by(1, 0.9))
  })
  test('lit from the critical irradiance itself on; no figure for what isn’t in the table of ignition', () => {
    const paper = ignitionMaterial('paper')
    const read = (kWm2: number) => readThing(level(kWm2), thing({}), table, 20).secondsToIgnite
    expect(read(paper.criticalKWm2)).toBe(ignitionSeconds(paper, paper.criticalKWm2, 20))
    expect(read(paper.criticalKWm2)).not.toBeNull()
    expect(read(0.999 * paper.criticalKWm2)).toBeNull()
    for (const material of ['skin', 'car-paint'] as const)
      expect(readThing(level(50), thing({ material }), table, 20).secondsToIgnite).toBeNull()
  })
  test('each material by its own row of the ignition table', () => {
    const rows = {
      'dry-grass': 'dry-grass',
      paper: 'paper',
      'dark-cloth': 'cotton',
      timber: 'wood',
      'lit-surface': 'wood-long',
      'black-plastic': 'abs',
      pvc: 'pvc',
      'synthetic-cloth': 'synthetic-cloth',
      polyethylene: 'polyethylene',
    } as const
    for (const [material, id] of Object.entries(rows) as [ThingInTheWay['material'], string][])
      expect(readThing(level(50), thing({ material }), table, 20).secondsToIgnite, material).toBe(
        ignitionSeconds(ignitionMaterial(id), 50, 20),
      )
  })
  test('names', () => {
    for (const id of MATERIAL_IDS) expect(materialName(id)).toBe(MATERIALS[id].name)
  })
})
