// Volumes against the formulae of geometry (mensuration of solids: any handbook). Circles are regular polygons here, whose area is
// n/2π · sin(2π/n) of the circle's.
import { expect, test } from 'vitest'
import { partStl } from '../../src/files/solidFiles.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { gannetHead, iceRink } from '../../src/library/demos.ts'
import { binLamp, slipLight } from '../../src/library/demosAssembled.ts'
import { workshopOf } from '../../src/library/typicalWorkshop.ts'
import type { PartName } from '../../src/solids/parts.ts'
import { circleSteps } from '../../src/solids/shape.ts'
import { expectWithin } from '../kit/expect.ts'
import { lampWith } from '../kit/lampWith.ts'
import { solidKernel } from '../kit/solidKernel.ts'
import { type StlReport, stlReport } from '../kit/stlCheck.ts'

const rounding = {
  rel: 2e-5,
  because: 'STL has single precision, and the kernel drops corners closer than its tolerance',
}

/** Area of the polygon that stands for a circle, over the circle's. */
const polygonShare = (radiusMm: number): number => {
  const n = circleSteps(radiusMm)
  return (n / (2 * Math.PI)) * Math.sin((2 * Math.PI) / n)
}
const discMm2 = (diameterMm: number): number => (Math.PI / 4) * diameterMm ** 2 * polygonShare(diameterMm / 2)

async function stlOf(lamp: Lamp, part: PartName): Promise<StlReport[]> {
  const made = partStl(await solidKernel(), lamp, part)
  if (!made.ok) throw new Error(made.why)
  return made.files.map((f) => stlReport(f.bytes))
}
const only = async (lamp: Lamp, part: PartName): Promise<StlReport> => {
  const [first, ...more] = await stlOf(lamp, part)
  if (!first || more.length > 0) throw new Error('one file expected')
  return first
}

test('a round plate less its holes and a slot with round ends', async () => {
  const lamp = lampWith({
    face: {
      keepOuts: [
        { shape: 'hole', xMm: 70, yMm: 50, diameterMm: 12, why: 'cable' },
        { shape: 'slot', xMm: -72, yMm: -50, lengthMm: 20, widthMm: 8, turnDeg: 30, why: 'cable' },
      ],
    },
    boardTypes: gannetHead().boardTypes.map((t) => ({ ...t, holes: [{ xMm: 0, yMm: 14, diameterMm: 3.4 }] })),
    boards: [{ id: 'B1', type: 'seven', xMm: 0, yMm: 0, turnDeg: 0, currentA: 1 }],
    workshop: { boardScrewMm: 2.5 },
  })
  // Screw holes as wide as in the board, as they are drawn; a plate of 12 mm. The typical ring's stand-offs fall beside it.
  const area = discMm2(200) - discMm2(12) - (12 * 8 + discMm2(8)) - discMm2(3.4)
  const plate = await only(lamp, 'face')
  expectWithin(plate.volumeMm3, 12 * area, rounding)
  expect(plate.size[2]).toBeCloseTo(12, 4)
  expect(plate.from[2]).toBeCloseTo(-12, 4)
})

test('a hexagonal plate with its cable hole: √3/2 of the square across flats', async () => {
  const lamp = iceRink()
  const { thicknessMm } = lamp.cooling!.plate
  const plate = await only(lamp, 'face')
  expectWithin(plate.volumeMm3, thicknessMm * ((Math.sqrt(3) / 2) * 240 ** 2 - discMm2(12)), rounding)
})

test('a tunnel is the frustum of its outside less that of its inside', async () => {
  const tunnel = await only(lampWith({ workshop: { tunnelThicknessMm: 2 } }), 'tunnel')
  // h π/3 (R² + Rr + r²); the sheet is 2 mm square to the slope of 180 in 1026.
  const across = 2 * Math.hypot(1, 180 / 1026)
  const share = polygonShare(280)
  const frustum = (r: number, R: number) => ((1026 * Math.PI) / 3) * (R * R + R * r + r * r) * share
  expectWithin(tunnel.volumeMm3, frustum(100 + across, 280 + across) - frustum(100, 280), rounding)
})

test('a rectangular tunnel: prismatoid outside less inside, h/6 (A₁ + 4 Aₘ + A₂)', async () => {
  const tunnel = await only(lampWith({ workshop: { tunnelThicknessMm: 1 } }, slipLight()), 'tunnel')
  const [tx, ty] = [2 * Math.hypot(1, 75 / 116), 2 * Math.hypot(1, 13 / 116)]
  const prismatoid = (dx: number, dy: number) =>
    (116 / 6) * ((150 + dx) * (84 + dy) + 4 * (225 + dx) * (97 + dy) + (300 + dx) * (110 + dy))
  expectWithin(tunnel.volumeMm3, prismatoid(tx, ty) - prismatoid(0, 0), rounding)
})

test('a lens ring: lip, seat and second lip, less its screw holes', async () => {
  const workshop = {
    lensRing: { widthMm: 16, lipMm: 4, heightMm: 8, screws: 8, screwMm: 4 },
    printer: { bedXMm: 220, bedYMm: 220, bedZMm: 220, wallMm: 2, clearanceMm: 0.5, densityKgM3: 1270 },
  }
  const ring = await only(lampWith({ workshop }), 'lens-ring')
  // The lens: 3 mm and a groove layer of two pitches; with 0.5 mm of clearance the seat is 4.5 mm high.
  const volume =
    8 * (discMm2(592) - discMm2(552)) +
    4.5 * (discMm2(592) - discMm2(561)) +
    2 * (discMm2(592) - discMm2(552)) -
    8 * 14.5 * discMm2(5)
  expectWithin(ring.volumeMm3, volume, rounding)
})

test('pieces of a ring together are the ring, and every screw goes through every layer', async () => {
  for (const lamp of [gannetHead(), binLamp(), slipLight()]) {
    const { screws } = workshopOf(lamp).lensRing
    const whole = await only(lamp, 'lens-ring')
    expect(whole.openings, lamp.name).toBe(screws + 1)
    const made = partStl(await solidKernel(), lamp, 'print-lens-ring')
    if (!made.ok) throw new Error(made.why)
    const sum = made.files.reduce((v, f) => v + f.count * stlReport(f.bytes).volumeMm3, 0)
    expectWithin(sum, whole.volumeMm3, { rel: 1e-4, because: 'single precision, once for each piece' })
    const layers = new Map<string, number>()
    for (const { name, count, bytes } of made.files) {
      const layer = /(second.lip|lip|seat)/.exec(name)?.[1] ?? ''
      layers.set(layer, (layers.get(layer) ?? 0) + count * stlReport(bytes).openings)
    }
    expect([...layers.values()], lamp.name).toEqual(['lip', 'seat', 'second lip'].map(() => screws))
  }
})

test('a plano-convex lens is a spherical cap on a cylinder: πh²(3R − h)/3', async () => {
  const lamp = lampWith({
    lens: {
      kind: 'solid',
      zMm: 1080,
      radiusMm: 300,
      conic: 0,
      thicknessMm: 30,
      diameterMm: 200,
      curved: 'source',
      material: 'pmma',
    },
  })
  const sag = 300 - Math.sqrt(300 ** 2 - 100 ** 2)
  const volume = (Math.PI * sag ** 2 * (900 - sag)) / 3 + Math.PI * 100 ** 2 * (30 - sag)
  const lens = await only(lamp, 'elements')
  expectWithin(lens.volumeMm3, volume, { rel: 2e-3, because: '32 rings and chords within 0.05 mm' })
  expect(lens.from[2]).toBeCloseTo(1050, 3)
})
