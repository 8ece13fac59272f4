// Every part of every example and of random lamps: closed, the right way out, on its bed, and small enough to open.

import { describe, expect, test } from 'vitest'
import { partStl } from '../../src/files/solidFiles.ts'
import { readLamp } from '../../src/lamp/read.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { paraboloidTunnel } from '../../src/layout/reflectors.ts'
import { DEMO_NAMES } from '../../src/library/demoNames.ts'
import { DEMOS } from '../../src/library/demos.ts'
import { workshopOf } from '../../src/library/typicalWorkshop.ts'
import { inSystem } from '../../src/num/quantity.ts'
import { triangles } from '../../src/solids/mesh.ts'
import { assemblyMeshes, listParts, makePart, PARTS, type PartName } from '../../src/solids/parts.ts'
import { amount } from '../kit/amount.ts'
import { assembledLamp } from '../kit/assembledLamp.ts'
import { lampWith } from '../kit/lampWith.ts'
import { dice, randomLamp } from '../kit/randomLamp.ts'
import { solidKernel } from '../kit/solidKernel.ts'
import { stlReport } from '../kit/stlCheck.ts'

/** The parts that could be made, by name; each file of them judged. */
async function judged(lamp: Lamp): Promise<PartName[]> {
  const kernel = await solidKernel()
  const { printer } = workshopOf(lamp)
  const made: PartName[] = []
  for (const { name, printed, ok, why } of listParts(lamp)) {
    const stl = partStl(kernel, lamp, name)
    if (!stl.ok) {
      expect(stl.why, `${name}: ${why}`).toMatch(/[.!?]$/)
      continue
    }
    expect(ok, name).toBe(true)
    made.push(name)
    for (const file of stl.files) {
      const report = stlReport(file.bytes)
      const what = `${lamp.name}: ${name}, ${file.name}`
      expect(report, what).toMatchObject({ openEdges: 0, wrongNormals: 0 })
      expect(report.volumeMm3, what).toBeGreaterThan(0)
      if (!printed) continue
      const [x, y, z] = report.size
      const [longer, shorter] = [Math.max(printer.bedXMm, printer.bedYMm), Math.min(printer.bedXMm, printer.bedYMm)]
      expect(Math.max(x, y), what).toBeLessThanOrEqual(longer + 2e-3)
      expect(Math.min(x, y), what).toBeLessThanOrEqual(shorter + 2e-3)
      expect(z, what).toBeLessThanOrEqual(printer.bedZMm)
      for (const from of report.from) expect(from, what).toBeCloseTo(0, 3)
    }
  }
  return made
}

describe('examples', () => {
  // The wide array is the first lamp with more boards: its assembly below is enough.
  test.each(DEMO_NAMES.filter((name) => name !== 'wide-array'))('%s', async (name) => {
    const made = await judged(DEMOS[name]())
    expect(made).toContain('assembly')
    expect(made).toContain('print-wire-comb')
    expect(made).toContain('print-board-jig')
    // Those with a lens or cover that is a body; those whose optics leave room for walls.
    expect(made.includes('print-lens-ring')).toBe(['gannet-head', 'bin-lamp', 'slip-light'].includes(name))
    expect(made.includes('print-cup')).toBe(!['gannet-head', 'bench-check'].includes(name))
  })
  test('their assemblies stay under 100,000 triangles, and of one kind is made once', async () => {
    const kernel = await solidKernel()
    for (const name of DEMO_NAMES) {
      const parts = assemblyMeshes(kernel, DEMOS[name]())
      expect(
        parts.reduce((n, p) => n + triangles(p.mesh), 0),
        name,
      ).toBeLessThan(100_000)
      expect(new Set(parts.map((p) => p.name)).size, name).toBe(parts.length)
    }
    const gannet = assemblyMeshes(kernel, DEMOS['gannet-head']())
    expect(new Set(gannet.filter((p) => p.name.startsWith('Optic')).map((p) => p.mesh)).size).toBe(1)
  })
})

test('random lamps with a bed of their own', async () => {
  const LAMPS = amount(4, 10)
  let printed = 0
  for (let seed = 1; seed <= LAMPS; seed++) {
    const d = dice(seed + 90_000)
    const printer = {
      ...{ bedXMm: d.between(90, 300), bedYMm: d.between(90, 300), bedZMm: d.between(80, 300) },
      ...{ wallMm: d.between(0.8, 3), clearanceMm: d.between(0, 0.5), densityKgM3: 1250 },
    }
    const base = seed % 2 === 0 ? assembledLamp(seed) : randomLamp(seed)
    const lamp = { ...base, name: `random ${seed}`, workshop: { printer } }
    const read = readLamp(lamp)
    expect(read.ok, `seed ${seed}`).toBe(true)
    printed += (await judged(lamp)).filter((name) => name.startsWith('print-')).length
  }
  expect(printed).toBeGreaterThan(1.5 * LAMPS)
})

test('a tunnel of two hundred stretches is one wall, its triangles bounded', async () => {
  const finish = { reflectance: 0.9, specularShare: 0.9, scatterDeg: 1 }
  const made = paraboloidTunnel({ focalMm: 30, focusZMm: 12, inMm: 100, outMm: 300, finish })
  if (!made.ok) throw new Error(made.why)
  const lamp = lampWith({ face: { sizeMm: 90 }, boards: [], tunnel: made.tunnel })
  expect(made.tunnel.joints!.length).toBeGreaterThan(50)
  const part = makePart(await solidKernel(), lamp, 'tunnel')
  expect(part.ok && part.pieces.length).toBe(1)
  expect(part.ok && triangles(part.pieces[0]!.mesh)).toBeLessThan(60_000)
})

describe('refused with the reason', () => {
  const printer = { bedXMm: 220, bedYMm: 220, bedZMm: 220, wallMm: 2.4, clearanceMm: 0.25, densityKgM3: 1270 }
  const lensRing = { widthMm: 16, lipMm: 4, heightMm: 8, screws: 8, screwMm: 4 }
  const why = async (lamp: Lamp, name: PartName, system: 'metric' | 'inch' = 'metric'): Promise<string> => {
    const made = makePart(await solidKernel(), lamp, name)
    return made.ok ? '' : inSystem(made.why, system)
  }
  test.each<[string, PartName, Parameters<typeof lampWith>[0], string]>([
    [
      'a ring thinner than a wall',
      'print-lens-ring',
      { workshop: { lensRing: { ...lensRing, heightMm: 2 } } },
      'A ring 2 mm high is thinner than the least wall of 2.4 mm.',
    ],
    [
      'no walls beside its screws',
      'print-lens-ring',
      { workshop: { lensRing: { ...lensRing, widthMm: 9 } } },
      'A ring 9 mm wide has no walls of 2.4 mm beside screw holes of 4.5 mm. Make it 9.8 mm wide.',
    ],
    [
      'wider than the bed',
      'print-lens-ring',
      { workshop: { lensRing: { ...lensRing, widthMm: 250 } } },
      'The ring is 254 mm from edge to edge; that is wider than the bed.',
    ],
    [
      'higher than the printer',
      'print-lens-ring',
      { workshop: { lensRing: { ...lensRing, heightMm: 100 }, printer: { ...printer, bedZMm: 60 } } },
      'lens ring, lip, piece 1 is 100 mm high; the printer reaches 60 mm.',
    ],
    [
      'bare emitters need no holder',
      'print-cup',
      { optic: 'bare' },
      'All emitters are bare: there is no optic to hold.',
    ],
    ['no lens', 'lens-ring', { lens: null }, 'The lamp has neither a lens nor a cover that a ring could hold.'],
    [
      'boards on wedges alone',
      'print-board-jig',
      {
        boards: [
          { id: 'B1', type: 'seven', xMm: 0, yMm: 0, turnDeg: 0, currentA: 1, wedge: { tiltDeg: 5, axisDeg: 0 } },
        ],
      },
      'No board lies flat on the face.',
    ],
    [
      'optics too close',
      'print-cup',
      {},
      'A holder for “Collimator 12°, 10 mm” on “Seven on a disc, 1 + 6 at 12 mm” would be 2.2 mm high with walls of 2.4 mm: the optics stand too close to each other or to the board’s edge.',
    ],
  ])('%s', async (_, name, change, expected) => {
    expect(await why(lampWith(change), name)).toBe(expected)
    expect(await why(lampWith(change), name, 'inch')).not.toContain(' mm high')
  })
})

test('a list has every part, and what it says can be made is made', async () => {
  const kernel = await solidKernel()
  const listed = listParts(DEMOS['slip-light']())
  expect(listed.map((p) => p.name)).toEqual(PARTS.map((p) => p.name))
  for (const { name, ok } of listed) expect(makePart(kernel, DEMOS['slip-light'](), name).ok, name).toBe(ok)
})
