// The same size wherever it stands: on the sheet that is cut by, in the solid, in the parts list.
import { describe, expect, test } from 'vitest'
import { partsList } from '../../src/bill/partsList.ts'
import { pathAreaMm2 } from '../../src/drawing/path.ts'
import { listSheets } from '../../src/drawing/sheets.ts'
import type { Drawing } from '../../src/drawing/types.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { paraboloidTunnel } from '../../src/layout/reflectors.ts'
import { gannetHead, iceRink } from '../../src/library/demos.ts'
import { binLamp, slipLight } from '../../src/library/demosAssembled.ts'
import { workshopOf } from '../../src/library/typicalWorkshop.ts'
import { lensRingOf } from '../../src/solids/lensRing.ts'
import { meshBox, meshVolume } from '../../src/solids/mesh.ts'
import { makePart, type PartName } from '../../src/solids/parts.ts'
import { drawn } from '../kit/drawn.ts'
import { expectWithin } from '../kit/expect.ts'
import { lampWith } from '../kit/lampWith.ts'
import { workshopLamp } from '../kit/ownSheets.ts'
import { solidKernel } from '../kit/solidKernel.ts'

/** A lens whose curve looks at the boards: it lies on the lip's inner edge, not on its own middle. */
const curvedDown = (): Lamp =>
  lampWith({
    boards: [],
    tunnel: null,
    lens: {
      ...{ kind: 'solid', zMm: 150, diameterMm: 120, radiusMm: 100, conic: 0, thicknessMm: 30 },
      ...{ curved: 'source', material: 'crown' },
    },
    workshop: { lensRing: { widthMm: 14, lipMm: 4, heightMm: 8, screws: 6, screwMm: 4 } },
  } as Parameters<typeof lampWith>[0])

const meshesOf = async (lamp: Lamp, part: PartName) => {
  const made = makePart(await solidKernel(), lamp, part)
  if (!made.ok) throw new Error(made.why)
  return made.pieces
}
const sheetOf = (lamp: Lamp, name: string): Drawing => drawn(lamp, name, { withKerf: false })

/** Of outlines less openings, mm². */
const areaOf = ({ items }: Drawing): number =>
  items.reduce((sum, i) => {
    if (i.kind === 'text' || !['outline', 'hole', 'slot'].includes(i.layer)) return sum
    const own = i.kind === 'circle' ? Math.PI * i.radiusMm ** 2 : Math.abs(pathAreaMm2(i))
    return sum + (i.layer === 'outline' ? own : -own)
  }, 0)

const rows = (lamp: Lamp) => new Map(partsList(lamp).parts.map((p) => [p.key, p]))
const polygons = { rel: 4e-3, because: 'circles of the solid are polygons' } as const

const HELD: [string, () => Lamp, string][] = [
  ['Gannet Head', gannetHead, 'lens'],
  ['Bin lamp', binLamp, 'lens'],
  ['Slip light', slipLight, 'cover-1'],
  ['a lens curved to the boards', curvedDown, 'lens'],
]

describe.each(HELD)('the ring of %s', (_, make, held) => {
  const lamp = make()
  const ring = rows(lamp).get('lens-ring')?.size
  const made = lensRingOf(lamp)
  if (ring?.of !== 'ring' || !made.ok) throw new Error('no ring')

  test('opening and outside: drawing, solid, list', async () => {
    const { items } = sheetOf(lamp, `ring-${held}`)
    const across = (layer: 'outline' | 'hole'): [number, number] => {
      const own = items.filter((i) => i.kind !== 'text' && i.layer === layer)
      const round = own.flatMap((i) => (i.kind === 'circle' ? [2 * i.radiusMm] : []))
      const corners = own.flatMap((i) => (i.kind === 'path' ? i.vertices : []))
      if (corners.length === 0) return [Math.max(...round), Math.max(...round)]
      const span = (of: number[]) => Math.max(...of) - Math.min(...of)
      return [span(corners.map((v) => v.x)), span(corners.map((v) => v.y))]
    }
    const [piece] = await meshesOf(lamp, 'lens-ring')
    const { from, to } = meshBox(piece!.mesh)
    for (const k of [0, 1] as const) {
      expectWithin(ring.outerMm[k], across('outline')[k], { abs: 1e-9, because: 'one function' })
      expectWithin(ring.innerMm[k], across('hole')[k], { abs: 1e-9, because: 'one function' })
      expectWithin(to[k] - from[k], ring.outerMm[k], polygons)
    }
    expectWithin(to[2] - from[2], ring.heightMm, { abs: 1e-3, because: 'single precision' })
  })

  test('its screws stand in the same places', () => {
    const { screwMm } = workshopOf(lamp).lensRing
    const places = (of: readonly (readonly [number, number])[]) =>
      of.map(([x, y]) => `${x.toFixed(6)} ${y.toFixed(6)}`.replaceAll('-0.000000', '0.000000')).sort()
    const drawnRing = sheetOf(lamp, `ring-${held}`)
    const holes = drawnRing.items.flatMap((i) =>
      i.kind === 'circle' && i.layer === 'hole' && Math.abs(2 * i.radiusMm - screwMm) < 1e-9 ? [i] : [],
    )
    // The sheet's origin is the ring's lower left corner.
    const shift = (k: 0 | 1) => ring.outerMm[k] / 2
    expect(places(holes.map((h) => [h.x - shift(0), h.y - shift(1)]))).toEqual(
      places(made.ring.screws.map((s) => [s.xMm, s.yMm])),
    )
    expect(rows(lamp).get(`screw:ring:M${screwMm}`)?.amount).toBe(holes.length)
  })

  test('its mass is its solid’s volume times the plastic’s density', async () => {
    const [piece] = await meshesOf(lamp, 'lens-ring')
    const grams = meshVolume(piece!.mesh) * workshopOf(lamp).printer.densityKgM3 * 1e-6
    expectWithin(rows(lamp).get('lens-ring')?.mass?.g ?? Number.NaN, grams, { rel: 0.02, because: polygons.because })
  })
})

test.each([
  ['flat', workshopLamp],
  ['a lens curved to the boards', curvedDown],
])('stand-offs are as long on the sheet as in the list, up to the solid’s lower side: %s', async (_, make) => {
  const lamp = make()
  const listed = rows(lamp).get('stand-off:M4')?.size
  if (listed?.of !== 'standOff') throw new Error('no stand-off')
  const words = sheetOf(lamp, 'stand-off-lens').items.flatMap((i) => (i.kind === 'text' ? [i.text] : []))
  expect(words).toContain(`– All ${listed.lengthMm} mm long.`)
  const [ring] = await meshesOf(lamp, 'lens-ring')
  expectWithin(meshBox(ring!.mesh).from[2], listed.lengthMm, { abs: 6e-3, because: 'rounded to a hundredth' })
})

test('by hand: where the lip holds a sphere of 100 mm, 56 mm from its middle, the edge is 30 − (100 − √(100² − 56²)) thick', () => {
  const listed = rows(curvedDown()).get('stand-off:M4')?.size
  const edge = 30 - (100 - Math.sqrt(100 ** 2 - 56 ** 2))
  expect(listed).toMatchObject({ lengthMm: Number((150 - edge - 8).toFixed(2)) })
})

describe('tunnels', () => {
  const butt = (lamp: Lamp): Lamp => ({ ...lamp, workshop: { ...lamp.workshop, seam: { kind: 'butt' } } })
  const wide = { sheetMm: { widthMm: 4000, heightMm: 4000 } }
  const square = (): Lamp =>
    lampWith({ tunnel: { sides: 4, inMm: 80, outMm: 180, zInMm: 10, zOutMm: 300 }, lens: { zMm: 320 } })
  const curve = (): Lamp => {
    const finish = { reflectance: 0.9, specularShare: 0.9, scatterDeg: 1 }
    const made = paraboloidTunnel({ focalMm: 30, focusZMm: 12, inMm: 100, outMm: 300, finish })
    if (!made.ok) throw new Error(made.why)
    return { ...lampWith({ face: { sizeMm: 90 }, boards: [], lens: null }), tunnel: made.tunnel }
  }
  const areaListed = (lamp: Lamp) =>
    partsList(lamp).parts.reduce((sum, { size }) => sum + (size.of === 'stretch' ? 100 * size.areaCm2 : 0), 0)

  test.each<[string, () => Lamp]>([
    ['Gannet Head, in four parts', gannetHead],
    ['Ice rink', iceRink],
    ['a pyramid', square],
    ['Bin lamp, by its panels', () => ({ ...binLamp(), workshop: { sheetMm: { widthMm: 600, heightMm: 500 } } })],
    ['Slip light', slipLight],
    ['gores with flaps', curve],
  ])('the list has the area of the blanks that are drawn: %s', (_, make) => {
    const lamp = make()
    const walls = new Map<string, { name: string; ok: boolean }[]>()
    for (const { name, ok } of listSheets(lamp)) {
      const [wall] = /^tunnel(-\d+)?(?=-|$)/.exec(name) ?? []
      if (wall !== undefined) walls.set(wall, [...(walls.get(wall) ?? []), { name, ok }])
    }
    let sum = 0
    for (const [wall, sheets] of walls) {
      const whole = sheets.find((s) => s.name === wall)
      for (const { name } of whole?.ok ? [whole] : sheets.filter((s) => s.ok)) {
        const sheet = sheetOf(lamp, name)
        const text = sheet.items.map((i) => (i.kind === 'text' ? i.text : '')).join(' ')
        sum += areaOf(sheet) * Number(/Cut (\d+) of these/.exec(text)?.[1] ?? 1)
      }
    }
    expectWithin(areaListed(lamp), sum, { rel: 1e-9, because: 'the same blanks' })
  })

  test.each<[string, () => Lamp]>([
    ['Gannet Head', gannetHead],
    ['Ice rink', iceRink],
    ['a pyramid', square],
    ['Bin lamp', binLamp],
    ['Slip light', slipLight],
  ])('area times thickness is the solid’s volume, but for the corners of bends: %s', async (_, make) => {
    const lamp = butt({ ...make(), workshop: wide })
    const walls = (await meshesOf(lamp, 'tunnel')).filter((p) => !p.name.includes('step'))
    const volume = walls.reduce((sum, p) => sum + meshVolume(p.mesh), 0)
    expectWithin(areaListed(lamp) * workshopOf(lamp).tunnelThicknessMm, volume, {
      rel: 0.01,
      because: 'a bend takes less than its sharp corner, ends are cut square to the axis, circles are polygons',
    })
  })

  test('a step: its ring on the sheet, in the list, in the solid', async () => {
    const lamp = binLamp()
    const size = rows(lamp).get('tunnel-step:1')?.size
    if (size?.of !== 'step') throw new Error('no step')
    const area = areaOf(sheetOf(lamp, 'step-1'))
    expectWithin(100 * size.areaCm2, area, { rel: 1e-9, because: 'the same ring' })
    const [piece] = (await meshesOf(lamp, 'tunnel')).filter((p) => p.name.includes('step'))
    expectWithin(meshVolume(piece!.mesh) / workshopOf(lamp).tunnelThicknessMm, area, { rel: 1e-4, because: 'flat' })
  })
})

test('the face plate has the holes of its drawing: keep-outs, slot, screws of boards, stand-offs', async () => {
  const lamp = workshopLamp()
  const sheet = sheetOf(lamp, 'face')
  const holes = sheet.items.filter((i) => i.layer === 'hole' || i.layer === 'slot')
  expect(holes.length).toBe(2 + 2 * 2 + 6)
  const [plate] = await meshesOf(lamp, 'face')
  const { from, to } = meshBox(plate!.mesh)
  const area = areaOf(sheet)
  // All holes together are 1.3 % of the plate; as polygons they lose a fiftieth of that.
  expectWithin(meshVolume(plate!.mesh) / (to[2] - from[2]), area, { rel: 3e-4, because: polygons.because })
})
