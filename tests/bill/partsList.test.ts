// The parts list of demos by hand, prices and weighed masses, centre of gravity, and counts of lamps at random.
import { describe, expect, test } from 'vitest'
import type { Part } from '../../src/bill/part.ts'
import { centreOf, type PartsList, partsList, sumMass } from '../../src/bill/partsList.ts'
import { wireGramsPerM } from '../../src/bill/powerParts.ts'
import { readLampText, writeLampText } from '../../src/lamp/read.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { benchCheck, DEMOS, gannetHead, stileLamp, wideArray } from '../../src/library/demos.ts'
import { amount } from '../kit/amount.ts'
import { expectWithin, seeds } from '../kit/expect.ts'
import { randomLamp } from '../kit/randomLamp.ts'
import { randomPowerLamp } from '../kit/randomPower.ts'

const rounding = { rel: 1e-9, because: 'rounding' } as const
const partOf = (list: PartsList, key: string): Part => {
  const found = list.parts.find((p) => p.key === key)
  if (!found) throw new Error(`no ${key} among ${list.parts.map((p) => p.key).join(', ')}`)
  return found
}
const keysOf = (list: PartsList) => list.parts.map((p) => p.key)
const gramsOf = (list: PartsList, key: string): number => partOf(list, key).mass?.g ?? Number.NaN

describe('Gannet Head by hand', () => {
  const listed = () => partsList(gannetHead())
  test('face: π/4 · 200² · 12 mm³ of 2.7 g/cm³, half of it behind the front', () => {
    const list = listed()
    expectWithin(gramsOf(list, 'face'), (Math.PI / 4) * 200 ** 2 * 12 * 2.7e-3, rounding)
    expect(partOf(list, 'face').placeMm).toEqual([0, 0, -6])
    expect(partOf(list, 'face').mass?.basis).toBe('computed')
  })
  test('18 fins: chords 2√(100² − x²) at ±5.5, ±16.5 … ±93.5 of 40 × 2 mm', () => {
    // Chords, mm: 199.70, 197.26, 192.28, 184.58, 173.78, 159.26, 139.83, 113.0, 70.93; twice their sum is 2861.
    const sum = [5.5, 16.5, 27.5, 38.5, 49.5, 60.5, 71.5, 82.5, 93.5].reduce(
      (all, x) => all + 4 * Math.sqrt(1e4 - x * x),
      0,
    )
    expectWithin(sum, 2861, { abs: 1, because: 'the sum of the comment' })
    const list = listed()
    expectWithin(gramsOf(list, 'sink'), sum * 40 * 2 * 2.7e-3, rounding)
    expectWithin(partOf(list, 'sink').placeMm![2], -12 - 20, rounding)
  })
  test('19 boards of 7, one optic an emitter, compound under the boards', () => {
    const list = listed()
    expect(partOf(list, 'board:seven').amount).toBe(19)
    expect(partOf(list, 'emitter:small-die-5').amount).toBe(133)
    expect(partOf(list, 'optic:collimator-12').amount).toBe(133)
    expectWithin(partOf(list, 'compound').amount, 19 * (Math.PI / 4) * 3.5 ** 2, rounding)
    expectWithin(gramsOf(list, 'board:seven'), 19 * (Math.PI / 4) * 35 ** 2 * 1.5 * 2.7e-3, rounding)
    expect(partOf(list, 'board:seven').mass?.basis).toBe('typical')
  })
  test('tunnel: a cone of slant √(1026² + 180²), radii 100 and 280, in two lengths of two parts, each with a flap of 12 mm; 0.5 mm of 2.7 g/cm³', () => {
    const slant = Math.hypot(1026, 180)
    // At the middle of the thickness radii are larger by 0.25 mm times the cosine of the slope, 1026/slant. A flap is drawn in by 6 mm at its ends.
    const cone = Math.PI * 380 * slant
    const flap = Math.PI * 0.5 * 1026 + 4 * 12 * (slant / 2 - 6)
    const list = listed()
    expectWithin(gramsOf(list, 'tunnel:1'), (cone + flap) * 0.5 * 2.7e-3, rounding)
    const zMm = 14 + (1026 * (cone * (660 / 1140) + flap / 2)) / (cone + flap)
    expectWithin(partOf(list, 'tunnel:1').placeMm![2], zMm, rounding)
    expect(partOf(list, 'tunnel:1').mass?.basis).toBe('typical')
    expect(list.typicalWorkshop).toContain('tunnelDensityKgM3')
  })
  test('lens: a plate of 3 mm acrylic and a layer of grooves, no deeper than at its edge', () => {
    const plateG = Math.PI * 280 ** 2 * 3 * 1.19e-3
    const list = listed()
    const grams = gramsOf(list, 'lens')
    // Facets at the edge: tan θ = 280/1100, sin 0.2467, tan α = 0.2467/(√(1.4918² − 0.0608) − 1) = 0.523; less than half of 0.5 · 0.523 mm on the mean.
    expect(grams).toBeGreaterThan(plateG)
    expect(grams).toBeLessThan(plateG * (1 + (0.5 * 0.523) / 2 / 3))
    expect(partOf(list, 'lens').material).toBe('Acrylic (PMMA)')
  })
  test('ring: 552 to 592 mm, a lip of 8 mm, a seat with room of 0.25 mm, a second lip of 2.4 mm, eight holes of 4.5 mm', () => {
    // The body counts its groove layer as two pitches: 3 + 1 mm.
    const seat = 4.25
    const around = 592 ** 2 - 552 ** 2 - 8 * 4.5 ** 2
    const volume = (Math.PI / 4) * (around * (8 + seat + 2.4) - (560.5 ** 2 - 552 ** 2) * seat)
    const list = listed()
    expectWithin(gramsOf(list, 'lens-ring'), volume * 1.27e-3, rounding)
    expect(partOf(list, 'screw:ring:M4').amount).toBe(8)
    // Wider than the face: no stand-off can reach it.
    expect(keysOf(list).some((k) => k.startsWith('stand-off'))).toBe(false)
    expect(partOf(list, 'nut:ring:M4').amount).toBe(8)
    expect(list.notListed).toContain('ringCarrier')
  })
  test('wires: 19 × 0.6 m and 19 × 0.2 m and 1.5 m, of each colour, a tenth more', () => {
    const list = listed()
    const metres = {
      'wire:main:awg8:75C:red': 1.5,
      'wire:main:awg8:75C:black': 1.5,
      'wire:channel:awg20:75C:red': 11.4,
      'wire:channel:awg20:75C:black': 11.4,
      'wire:board:awg20:200C:white': 3.8,
      'wire:board:awg20:200C:brown': 3.8,
    }
    expect(keysOf(list).filter((k) => k.startsWith('wire'))).toEqual(Object.keys(metres))
    for (const [key, laidM] of Object.entries(metres)) {
      const { amount, size, unit } = partOf(list, key)
      expect(unit).toBe('m')
      expectWithin(amount, 1.1 * laidM, rounding)
      expectWithin(size.of === 'wire' ? size.laidM : 0, laidM, rounding)
    }
  })
  test('copper: AWG 20 is 0.5176 mm² (ASTM B258), so 12.54 m hold 12.54 · 0.5176 · 8.96 = 58.2 g', () => {
    const { size, mass } = partOf(partsList(gannetHead()), 'wire:channel:awg20:75C:red')
    if (size.of !== 'wire') throw new Error('no wire')
    expectWithin(size.copperG, 58.16, { abs: 0.02, because: 'four digits of the section' })
    // Strands of 1.15 · 0.8118 mm in 0.6 mm of PVC: π (0.9336 · 0.6 + 0.36) mm² · 1.4 g/cm³ · 12.54 m.
    expectWithin(size.insulationG, Math.PI * (0.9336 * 0.6 + 0.36) * 1.4 * 12.54, { abs: 0.02, because: 'as above' })
    expectWithin(mass!.g, size.copperG + size.insulationG, rounding)
  })
  test('contacts both ways, fuses by rating, drivers, cells, contactor', () => {
    const list = listed()
    // One pair in the main wire and one to each of 19 drivers, as many on the way back.
    expect(partOf(list, 'contacts').amount).toBe(40)
    expect(partOf(list, 'fuse:3A:58V:blade').amount).toBe(19)
    expect(partOf(list, 'fuse:40A:58V:blade').amount).toBe(1)
    expect(partOf(list, 'fuse-holder:3A:58V:blade').amount).toBe(19)
    expect(partOf(list, 'driver:buck').amount).toBe(19)
    expect(partOf(list, 'cell').amount).toBe(60)
    expectWithin(gramsOf(list, 'cell'), 60 * 47, rounding)
    expect(partOf(list, 'cell').mass?.basis).toBe('stated')
    expect(keysOf(list)).toEqual(expect.arrayContaining(['contactor', 'precharge', 'pack-protection']))
  })
  test('what isn’t known is null and named, and what stands beside the lamp counts apart', () => {
    const list = listed()
    expect(partOf(list, 'driver:buck')).toMatchObject({ mass: null, where: 'apart' })
    expect(list.mass.unknown).toEqual(expect.arrayContaining(['optic:collimator-12', 'compound', 'screw:ring:M4']))
    expect(list.apart.unknown).toContain('driver:buck')
    const head = ['face', 'sink', 'board:seven', 'tunnel:1', 'lens-ring', 'lens']
    const boardWires = ['wire:board:awg20:200C:white', 'wire:board:awg20:200C:brown']
    expectWithin(
      list.mass.knownG,
      [...head, ...boardWires].reduce((sum, k) => sum + gramsOf(list, k), 0),
      rounding,
    )
    expectWithin(
      list.mass.typicalG,
      ['board:seven', 'tunnel:1', 'lens-ring', ...boardWires].reduce((sum, k) => sum + gramsOf(list, k), 0),
      rounding,
    )
    const zMm = head.reduce((sum, k) => sum + gramsOf(list, k) * partOf(list, k).placeMm![2], 0)
    const ofG = head.reduce((sum, k) => sum + gramsOf(list, k), 0)
    expectWithin(list.centre!.zMm, zMm / ofG, rounding)
    expectWithin(list.centre!.ofG, ofG, rounding)
    expect(list.centre!.without).toEqual(boardWires)
  })
})

test('Bench check by hand: 1 m and 0.2 m and 0.2 m, two contacts each way, no ring about an ideal lens', () => {
  const list = partsList(benchCheck())
  expectWithin(partOf(list, 'wire:main:1mm2:75C:red').amount, 1.1, rounding)
  expectWithin(partOf(list, 'wire:channel:0.5mm2:75C:black').amount, 0.22, rounding)
  expectWithin(partOf(list, 'wire:board:0.5mm2:200C:white').amount, 0.22, rounding)
  // 1 mm² of copper is 8.96 g/m; 0.6 mm of PVC about strands of 1.15 · 1.1284 mm: π (1.2976 · 0.6 + 0.36) · 1.4 = 5.007 g/m.
  const { copperG, insulationG } = wireGramsPerM({ gauge: { system: 'mm2', mm2: 1 }, insulationC: 75 })
  expectWithin(copperG, 8.96, rounding)
  expectWithin(insulationG, 5.007, { abs: 0.003, because: 'four digits' })
  expect(partOf(list, 'contacts').amount).toBe(4)
  expect(partOf(list, 'lens').mass).toBe(null)
  expect(keysOf(list)).not.toContain('lens-ring')
  expect(list.notListed).toContain('idealLens')
  expect(partOf(list, 'supply')).toMatchObject({ amount: 1, mass: null, where: 'apart' })
})

test('a lamp without cooling and supply: what is taken is marked as typical, and said', () => {
  const list = partsList(wideArray())
  expect(list.assumed.length).toBeGreaterThanOrEqual(2)
  expect(partOf(list, 'face')).toMatchObject({ assumed: true, mass: { basis: 'typical' } })
  expect(partOf(list, 'supply').assumed).toBe(true)
  expect(partOf(list, 'driver:typical').assumed).toBe(true)
})

test('holes give screws and washers, and leave their part of the board; a small lens stands on the face', () => {
  const lamp = gannetHead()
  const holes = [-14, 14].map((yMm) => ({ xMm: 0, yMm, diameterMm: 3.2 }))
  const drilled: Lamp = {
    ...lamp,
    boardTypes: lamp.boardTypes.map((t) => ({ ...t, holes })),
    lens: { ...lamp.lens!, diameterMm: 120, zMm: 150, focalMm: 160 } as Lamp['lens'],
    tunnel: null,
    workshop: { boardScrewMm: 2.5, lensRing: { widthMm: 20, lipMm: 3, heightMm: 10, screws: 6, screwMm: 3 } },
  }
  const list = partsList(drilled)
  expect(partOf(list, 'screw:board:M2.5')).toMatchObject({ amount: 38, assumed: false })
  expect(partOf(list, 'washer:board:M2.5')).toMatchObject({ amount: 38, assumed: true })
  const area = (Math.PI / 4) * (35 ** 2 - 2 * 3.2 ** 2)
  expectWithin(gramsOf(list, 'board:seven'), 19 * area * 1.5 * 2.7e-3, rounding)
  expectWithin(partOf(list, 'compound').amount, (19 * area) / 100, rounding)
  expect(list.notListed).not.toContain('boardScrews')
  expect(partOf(list, 'stand-off:M3')).toMatchObject({ amount: 6, assumed: false })
  expect(partOf(list, 'screw:standOff:M3').amount).toBe(6)
  // The ring lies under the lens, whose body begins at 150; it is 10 mm high.
  expect(partOf(list, 'stand-off:M3').size).toEqual({ of: 'standOff', lengthMm: 140, threadMm: 3 })
  expect(list.typicalWorkshop).toEqual(['printer'])
})

test('spacers, wedges, protection, drivers on the plate, a bought sink, a fan', () => {
  const lamp = gannetHead()
  const list = partsList({
    ...lamp,
    boards: lamp.boards.map((b, i) => ({
      ...b,
      ...(i < 4 ? { heightMm: 5 } : {}),
      ...(i === 7 ? { wedge: { tiltDeg: -12, axisDeg: 0 } } : {}),
    })),
    cooling: {
      ...lamp.cooling!,
      sink: { kind: 'rated', resistanceKW: 0.2, heatCapacityJK: 0, flow: 'forced' },
      air: { kind: 'moved', speedMS: 2 },
    },
    power: {
      ...lamp.power!,
      drivers: lamp.power!.drivers.map((d) => ({ ...d, mounted: 'plate' as const })),
      protection: { sensor: { xMm: 3, yMm: 4, lagS: 1 }, cutOut: { openC: 90, closeC: 70 } },
    },
  })
  expect(partOf(list, 'spacer:5').amount).toBe(4)
  expect(partOf(list, 'wedge:12:0').amount).toBe(1)
  expect(partOf(list, 'sink').mass).toBe(null)
  expect(partOf(list, 'cut-out').size).toEqual({ of: 'cutOut', opensC: 90, closesC: 70 })
  expect(partOf(list, 'sensor').placeMm).toEqual([3, 4, 0])
  expect(partOf(list, 'driver:buck').where).toBe('lamp')
  expect(partOf(list, 'wire:channel:awg20:75C:red:on-lamp').where).toBe('lamp')
  expect(list.notListed).toContain('air')
})

test('links between boards are wire to the boards: in series one alone and back, side by side in pairs', () => {
  const lamp = gannetHead()
  const wired = (how: 'series' | 'parallel') =>
    partsList({
      ...lamp,
      boards: lamp.boards.slice(0, 2).map((b, i) => ({ ...b, xMm: 100 * i, yMm: 0 })),
      power: { ...lamp.power!, groups: lamp.power!.groups.map((g) => ({ ...g, wired: how })) },
    })
  const laid = (list: PartsList, colour: string) => partOf(list, `wire:board:awg20:200C:${colour}`).amount / 1.1
  // 0.2 m from the driver; in series 0.1 m to the second board and 0.1 m back, plus alone; side by side a pair of 0.1 m.
  expectWithin(laid(wired('series'), 'white'), 0.4, rounding)
  expectWithin(laid(wired('series'), 'brown'), 0.2, rounding)
  expectWithin(laid(wired('parallel'), 'white'), 0.3, rounding)
  expectWithin(laid(wired('parallel'), 'brown'), 0.3, rounding)
  expect(partOf(wired('series'), 'driver:buck').amount).toBe(1)
})

test('a joint with a step: two sheets and the ring between them, of the same sheet', () => {
  const lamp = gannetHead()
  const finish = { reflectance: 0.9, specularShare: 1, scatterDeg: 0 }
  const joints = [{ zMm: 500, belowMm: 300, aboveMm: 400, ...finish }]
  const list = partsList({ ...lamp, tunnel: { ...lamp.tunnel!, joints } })
  expect(keysOf(list).filter((k) => k.startsWith('tunnel'))).toEqual(['tunnel:1', 'tunnel-step:1', 'tunnel:2'])
  expectWithin(gramsOf(list, 'tunnel-step:1'), Math.PI * (200 ** 2 - 150 ** 2) * 0.5 * 2.7e-3, rounding)
  expect(partOf(list, 'tunnel-step:1').placeMm).toEqual([0, 0, 500])
})

describe('sums', () => {
  const bare = { step: 'face', name: null, amount: 1, unit: 'piece', size: { of: 'fan' }, material: null } as const
  const rest = { where: 'lamp', assumed: false, price: null, cost: null } as const
  const part = (key: string, g: number | null, placeMm: Part['placeMm']): Part => ({
    ...{ ...bare, ...rest, key, placeMm },
    mass: g === null ? null : { g, basis: 'computed', source: '' },
  })
  test('centre of two parts: 300 g at (10, 0, 0) and 100 g at (−10, 20, 40)', () => {
    const two = [part('a', 300, [10, 0, 0]), part('b', 100, [-10, 20, 40])]
    // (3000 − 1000)/400, 2000/400, 4000/400. Parts without mass or place don't count.
    const more = [...two, part('c', null, [500, 0, 0]), part('d', 50, null)]
    expect(centreOf(more)).toEqual({ xMm: 5, yMm: 5, zMm: 10, ofG: 400, without: ['d'] })
    expect(centreOf([part('c', null, [1, 1, 1])])).toBe(null)
    expect(sumMass(more)).toEqual({ knownG: 450, typicalG: 0, rows: 4, unknown: ['c'] })
  })
})

describe('what the builder types', () => {
  const workshop = {
    currency: 'kr',
    prices: { 'board:seven': 12.5, 'wire:channel:awg20:75C:red': 2, lens: 0, gone: 3 },
    massG: { 'driver:buck': 30, lens: 950, 'wire:board:awg20:200C:white': 10 },
  }
  const typed = (): Lamp => ({ ...gannetHead(), workshop })
  test('prices for one piece, or a metre; a price of nothing is a price', () => {
    const list = partsList(typed())
    expect(partOf(list, 'board:seven')).toMatchObject({ price: 12.5, cost: 237.5 })
    expectWithin(partOf(list, 'wire:channel:awg20:75C:red').cost!, 2 * 12.54, rounding)
    expect(partOf(list, 'lens').cost).toBe(0)
    expect(partOf(list, 'cell').cost).toBe(null)
    expect(list.cost).toMatchObject({ currency: 'kr', priced: 3, rows: list.parts.length })
    expectWithin(list.cost.total, 237.5 + 25.08, rounding)
    expect(list.unused).toEqual(['gone'])
  })
  test('a weighed mass is that of one piece or metre, and wins', () => {
    const list = partsList(typed())
    expect(partOf(list, 'driver:buck').mass).toMatchObject({ g: 570, basis: 'weighed' })
    expect(partOf(list, 'lens').mass).toMatchObject({ g: 950, basis: 'weighed' })
    expectWithin(gramsOf(list, 'wire:board:awg20:200C:white'), 41.8, rounding)
    expect(list.apart.unknown).not.toContain('driver:buck')
  })
  test('prices survive the file', () => {
    const read = readLampText(writeLampText(typed()))
    if (!read.ok) throw new Error(read.why.join(' '))
    expect(partsList(read.lamp)).toEqual(partsList(typed()))
  })
})

describe('lamps at random', () => {
  const count = <T>(all: readonly T[], is: (x: T) => boolean) => all.filter(is).length
  const held = (lamp: Lamp) => {
    const list = partsList(lamp)
    expect(new Set(keysOf(list)).size).toBe(list.parts.length)
    const sum = (start: string) =>
      list.parts.filter((p) => p.key.startsWith(start)).reduce((all, p) => all + p.amount, 0)
    const sites = new Map(lamp.boardTypes.map((t) => [t.id, t.sites.length]))
    const emitters = lamp.boards.reduce((all, b) => all + sites.get(b.type)!, 0)
    expect(sum('board:')).toBe(lamp.boards.length)
    expect(sum('emitter:')).toBe(emitters)
    const bare = lamp.opticTypes.find((o) => o.id === lamp.optic)?.kind === 'bare'
    expect(sum('optic:')).toBe(bare ? 0 : emitters)
    expect(sum('tunnel:')).toBe(lamp.tunnel ? 1 + (lamp.tunnel.joints?.length ?? 0) : 0)
    expect(count(keysOf(list), (k) => k === 'lens')).toBe(lamp.lens ? 1 : 0)
    for (const { mass, amount, key, placeMm } of list.parts) {
      expect(amount, key).toBeGreaterThan(0)
      if (mass) expect(Number.isFinite(mass.g) && mass.g > 0, key).toBe(true)
      if (mass) expect(mass.source, key).not.toBe('')
      if (placeMm) expect(placeMm.every(Number.isFinite), key).toBe(true)
    }
    return { list, sum }
  }
  test.each(seeds(amount(6, 20)))('boards, emitters, optics, stretches, lens; masses finite, seed %i', (seed) => {
    held(randomLamp(seed))
  })
  test.each(seeds(amount(6, 20)))('drivers by channel, fuses, cells and wire of random supplies, seed %i', (seed) => {
    const { lamp } = randomPowerLamp(seed)
    const { list, sum } = held(lamp)
    const power = lamp.power!
    const groups = power.groups.map((g) => ({
      ...g,
      boards: count(lamp.boards, (b) => (b.group ?? power.groups[0]!.id) === g.id),
    }))
    const channels = groups.reduce((all, g) => all + (g.wired === 'each' ? g.boards : Math.min(1, g.boards)), 0)
    expect(sum('driver:')).toBe(channels)
    const { main, channel } = power.harness
    expect(sum('fuse:')).toBe((main.fuse ? 1 : 0) + (channel.fuse ? channels : 0))
    expect(sum('cell')).toBe(power.supply.kind === 'pack' ? power.supply.series * power.supply.parallel : 0)
    expectWithin(sum('wire:main:'), 2 * 1.1 * (main.lengthMm / 1000), rounding)
    const known = list.parts.flatMap((p) => p.mass?.g ?? []).reduce((a, b) => a + b, 0)
    expectWithin(list.mass.knownG + list.apart.knownG, known, rounding)
  })
  test('every example has a list, and its masses and places are numbers', () => {
    for (const make of Object.values(DEMOS)) held(make())
    held(stileLamp())
  })
})
