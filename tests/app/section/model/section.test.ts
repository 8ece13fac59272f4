import { describe, expect, test } from 'vitest'
import { cutBoards, cutEmitters, faceHalf, tunnelHalf } from '../../../../src/app/common/cut.ts'
import { describeSection } from '../../../../src/app/common/describeSection.ts'
import { extentOf, extentWith } from '../../../../src/app/common/extent.ts'
import { FATE_GROUPS, groupOfFate, groupsOf, pathsByGroup } from '../../../../src/app/common/fates.ts'
import { lengthText, withError } from '../../../../src/app/common/lengthText.ts'
import { niceAbove } from '../../../../src/app/common/niceSteps.ts'
import {
  fitCamera,
  panned,
  rOfY,
  scaleBar,
  xOfZ,
  yOfR,
  zOfX,
  zoomedAbout,
} from '../../../../src/app/section/model/frame.ts'
import { flatStrip, heatTop, wallStrips } from '../../../../src/app/section/model/heat.ts'
import { ringOfPlace } from '../../../../src/app/section/model/places.ts'
import { placeCallouts, sizesAcross, sizesAlong } from '../../../../src/app/section/model/sizes.ts'
import { spotText } from '../../../../src/app/section/model/words.ts'
import { placeEmitters } from '../../../../src/lamp/place.ts'
import { benchCheck, DEMOS, gannetHead, iceRink, stileLamp } from '../../../../src/library/demos.ts'
import type { GridMap } from '../../../../src/run/figure.ts'
import { FATES } from '../../../../src/run/types.ts'

const size = { width: 608, height: 560 }
const margins = { left: 70, right: 88, top: 95, bottom: 112 }

describe('frame', () => {
  test.each(Object.keys(DEMOS))('the whole of %s fits inside the margins', (name) => {
    const extent = extentOf(DEMOS[name]!())
    const c = fitCamera(extent, size, margins)
    expect(xOfZ(c, size, extent.zFromMm)).toBeGreaterThanOrEqual(margins.left - 1e-6)
    expect(xOfZ(c, size, extent.zToMm)).toBeLessThanOrEqual(size.width - margins.right + 1e-6)
    expect(yOfR(c, size, extent.rMm)).toBeGreaterThanOrEqual(margins.top - 1e-6)
    expect(yOfR(c, size, -extent.rMm)).toBeLessThanOrEqual(size.height - margins.bottom + 1e-6)
  })

  test('the corners of a many-sided tunnel and face are inside as well: upright, a hexagon is 1/cos 30° of its flats', () => {
    expect(extentOf(iceRink()).rMm).toBeCloseTo(320 / 2 / Math.cos(Math.PI / 6), 9)
    expect(extentOf({ ...iceRink(), tunnel: null }).rMm).toBeCloseTo(240 / 2 / Math.cos(Math.PI / 6), 9)
  })

  test('true scale: a millimetre is as long along as across, and r points up', () => {
    const c = fitCamera(extentOf(gannetHead()), size, margins)
    expect(xOfZ(c, size, 101) - xOfZ(c, size, 100)).toBeCloseTo(yOfR(c, size, 100) - yOfR(c, size, 101), 9)
    expect(yOfR(c, size, 10)).toBeLessThan(yOfR(c, size, 0))
  })

  test('zooming keeps the place under the pointer; panning moves it with the pointer', () => {
    const c = fitCamera(extentOf(gannetHead()), size, margins)
    const z = zOfX(c, size, 120)
    const r = rOfY(c, size, 77)
    const near = zoomedAbout(c, size, 120, 77, 3)
    expect(near.pxPerMm).toBeCloseTo(3 * c.pxPerMm, 9)
    expect(zOfX(near, size, 120)).toBeCloseTo(z, 9)
    expect(rOfY(near, size, 77)).toBeCloseTo(r, 9)
    const moved = panned(c, 15, -8)
    expect(xOfZ(moved, size, z)).toBeCloseTo(135, 9)
    expect(yOfR(moved, size, r)).toBeCloseTo(69, 9)
  })

  test.each([
    [0.36, 110, 200],
    [1, 110, 100],
    [40, 110, 2],
  ])('scale bar at %d px/mm under %d px is %d mm', (scale, most, mm) => {
    const bar = scaleBar(scale, most)
    expect(bar.lengthMm).toBeCloseTo(mm, 9)
    expect(bar.px).toBeCloseTo(mm * scale, 9)
  })

  test('the top of a scale is a round number, never below the value', () => {
    for (const v of [0.0123, 0.3, 1, 1.01, 2.07, 9.99, 214]) {
      expect(niceAbove(v)).toBeGreaterThanOrEqual(v * 0.9999)
      expect(niceAbove(v)).toBeLessThanOrEqual(v * 2)
    }
    expect(niceAbove(0)).toBe(1)
  })
})

describe('parts', () => {
  test('the boards on the axis of the demo are cut, those beside it are not', () => {
    const boards = cutBoards(gannetHead(), 'upright')
    expect(boards).toHaveLength(19)
    const cut = boards.filter((b) => b.cut)
    // Hexagonal grid of 36 mm: in the upright plane stand the centre and, at 62.35 mm, one above and one below;
    // its neighbours at x = ±18 of the rows between reach over the plane only with 35 mm discs: 17.5 < 18.
    expect(cut.map((b) => (b.fromMm + b.toMm) / 2).sort((a, b) => a - b)).toEqual([
      expect.closeTo(-62.354, 2),
      0,
      expect.closeTo(62.354, 2),
    ])
    expect(cut[0]!.toMm - cut[0]!.fromMm).toBeCloseTo(35, 6)
  })

  test('every emitter has an outline from its package to its optic', () => {
    const emitters = cutEmitters(gannetHead(), 'level')
    // One for each height and each side of the plane: those behind one another look alike.
    const places = placeEmitters(gannetHead())
    const heights = (mm: readonly number[]) => [...new Set(mm.map((x) => Math.round(100 * x)))].sort((a, b) => a - b)
    expect(heights(emitters.map((e) => e.atMm))).toEqual(heights(places.map((p) => p.xMm)))
    expect(heights(emitters.filter((e) => e.cut).map((e) => e.atMm))).toEqual(
      heights(places.filter((p) => Math.abs(p.yMm) <= 5).map((p) => p.xMm)),
    )
    expect(emitters.length).toBeLessThan(2 * heights(places.map((p) => p.xMm)).length + 1)
    for (const e of emitters) {
      const z = e.outline.map((p) => p[0])
      expect(Math.max(...z)).toBe(12)
      const r = e.outline.map((p) => p[1])
      expect(Math.max(...r) - Math.min(...r)).toBeCloseTo(10, 9)
    }
  })

  test('a hexagon shows its flats in the level cut and its corners in the upright one', () => {
    const { tunnel, face } = iceRink()
    expect(tunnelHalf(tunnel!, 250, 'level')).toBeCloseTo(125, 9)
    expect(tunnelHalf(tunnel!, 250, 'upright')).toBeCloseTo(125 / Math.cos(Math.PI / 6), 9)
    expect(faceHalf(face, 'level')).toBeCloseTo(120, 9)
    expect(faceHalf(face, 'upright')).toBeCloseTo(240 / Math.sqrt(3), 9)
  })
})

describe('fates', () => {
  test('every fate has exactly one group', () => {
    for (const fate of FATES) expect(FATE_GROUPS.filter((g) => g.fates.includes(fate))).toHaveLength(1)
    expect(FATE_GROUPS[groupOfFate(FATES.indexOf('leakedLensGap'))]!.name).toBe('gap')
  })
  test('paths are sorted by group without loss', () => {
    const fate = Uint8Array.from([0, 11, 2, 11, 12, 15])
    const groups = pathsByGroup({ fate })
    expect(groups.flat().sort()).toEqual([0, 1, 2, 3, 4, 5])
    expect(groups[0]).toEqual([1, 3, 4])
  })
})

const grid = (columns: number, rows: number, at: (x: number, y: number) => number, toX = 1, toY = 1): GridMap => ({
  columns,
  rows,
  fromX: 0,
  toX,
  fromY: 0,
  toY,
  unit: 'mm',
  of: 'kW/m2',
  values: Float32Array.from({ length: columns * rows }, (_, i) => at(i % columns, Math.floor(i / columns))),
})

describe('heat', () => {
  test('a flat strip runs along the axis of its cut', () => {
    const map = grid(8, 6, (x, y) => 10 * y + x)
    const upright = flatStrip(map, 'upright')
    expect(upright.kWm2).toHaveLength(6)
    // The two middle columns are 3 and 4: their mean is 3.5.
    expect([...upright.kWm2]).toEqual([3.5, 13.5, 23.5, 33.5, 43.5, 53.5])
    const level = flatStrip(map, 'level')
    // The two middle rows are 2 and 3: 25 and the column.
    expect([...level.kWm2]).toEqual([25, 26, 27, 28, 29, 30, 31, 32])
  })
  test('a wall strip is read where the plane meets the wall', () => {
    const map = grid(72, 3, (x) => x)
    const { above, below } = wallStrips(map, 'upright')
    // 5° a column: 75° to 105° are columns 15 to 20, of mean 17.5; the other side is half a turn on.
    expect(above.kWm2[1]).toBeCloseTo(17.5, 5)
    expect(below.kWm2[1]).toBeCloseTo(53.5, 5)
    // The level cut meets the seam: columns 0 to 2 and 69 to 71.
    expect(wallStrips(map, 'level').above.kWm2[0]).toBeCloseTo(35.5, 5)
    expect(heatTop([above, below])).toBe(60)
  })
})

describe('sizes and words', () => {
  test('the demo is dimensioned like a drawing', () => {
    expect(sizesAlong(gannetHead()).map((s) => s.text)).toEqual([
      'gap 14 mm',
      'tunnel 1026 mm',
      'gap 10 mm',
      'lens at 1050 mm',
      'focus to lens 1100 mm',
    ])
    expect(sizesAcross(gannetHead()).map((s) => s.text)).toEqual([
      'face ⌀ 200 mm',
      'inlet ⌀ 200 mm',
      'outlet ⌀ 560 mm',
      'lens ⌀ 560 mm',
    ])
    expect(sizesAlong(stileLamp())).toEqual([])
  })
  test('on a phone, 420 px, a fourth row keeps the longest callout on the canvas', () => {
    const items = [
      { xPx: 116, widthPx: 162 },
      { xPx: 172, widthPx: 160 },
      { xPx: 266, widthPx: 148 },
      { xPx: 277, widthPx: 290 },
    ]
    const ends = (rows: number) => placeCallouts(items, 8, 412, rows).map((p, i) => p.leftPx + (items[i]?.widthPx ?? 0))
    expect(Math.max(...ends(3))).toBeGreaterThan(412)
    expect(Math.max(...ends(4))).toBeLessThanOrEqual(412)
  })
  test('callouts never overlap while there is room', () => {
    const items = [10, 20, 30, 400, 405].map((xPx) => ({ xPx, widthPx: 150 }))
    const places = placeCallouts(items, 8, 600, 3)
    for (const [i, a] of places.entries()) {
      expect(a.leftPx).toBeGreaterThanOrEqual(8)
      expect(a.leftPx + 150).toBeLessThanOrEqual(600)
      for (const [j, b] of places.entries())
        if (i !== j && a.row === b.row) expect(Math.abs(a.leftPx - b.leftPx)).toBeGreaterThanOrEqual(150)
    }
  })
  test.each([
    [4.321, 0.05, '4.32 ± 0.11'],
    [4.321, 0.15, '4.32 ± 0.32'],
    // Where three digits leave no more room, ± is rounded up: 1.9 and 2.09.
    [214, 0.89, '214 ± 2'],
    [214, 0.98, '214 ± 3'],
    [1234.5, 40, '1230 ± 90'],
    [0.38, 0, '0.38'],
    // Never “± 0”, and never more digits than a lamp is known to.
    [0.38, 1e-9, '0.38'],
    [3.12501, 0.000061, '3.13'],
  ])('%d with standard error %d reads %s', (value, se, text) => {
    expect(withError(value, se)).toBe(text)
  })
  test('lengths and spots in words', () => {
    expect(lengthText(1050)).toBe('1050 mm')
    expect(lengthText(14.25)).toBe('14.3 mm')
    expect(lengthText(12_340)).toBe('12.3 m')
    expect(spotText('lens', { kWm2: 3.1, se: 0.1, xMm: 0, yMm: 0, zMm: 0, discMm: 10 })).toBe('Lens 3.10 ± 0.21 kW/m²')
  })
  test('the section has a text alternative', () => {
    expect(describeSection(gannetHead())).toBe(
      'Gannet Head, cut along its axis, light going from left to right. Round face, ⌀ 200 mm, with 19 boards. Tunnel round, from 200 mm at 14 mm to 560 mm at 1040 mm from the face. Fresnel lens, grooves to the target, 560 mm, at 1050 mm; its focus lies 50 mm behind the face.',
    )
    expect(describeSection(stileLamp())).toContain('No tunnel. No lens.')
  })
  test('places of findings are ringed where they are', () => {
    const lamp = gannetHead()
    const point = { kind: 'point', xMm: 3, yMm: -7, zMm: 400, on: 'wall' } as const
    expect(ringOfPlace(lamp, point, 'upright')).toEqual({ zMm: 400, rMm: -7, ringMm: 0 })
    expect(ringOfPlace(lamp, point, 'level')).toEqual({ zMm: 400, rMm: 3, ringMm: 0 })
    expect(ringOfPlace(lamp, { kind: 'part', part: 'lens' }, 'upright')?.zMm).toBe(1050)
    expect(ringOfPlace(lamp, { kind: 'board', boardIndex: 1 }, 'level')?.rMm).toBeCloseTo(36, 9)
    expect(ringOfPlace(lamp, { kind: 'board', boardIndex: 999 }, 'upright')).toBeNull()
    expect(ringOfPlace(benchCheck(), { kind: 'part', part: 'tunnel' }, 'upright')).toBeNull()
  })
})

test('only the fates that a lamp’s light can have', () => {
  const names = (key: string) => groupsOf(DEMOS[key]!()).map((g) => g.name)
  expect(names('gannet-head')).toEqual(['out', 'wall', 'face', 'gap', 'lens', 'other'])
  expect(names('stile-lamp')).toEqual(['out', 'other']) // no tunnel, no lens
  expect(names('ice-rink')).toEqual(['out', 'wall', 'face', 'gap', 'other']) // no lens
  expect(names('bench-check')).toEqual(['out', 'gap']) // an ideal lens loses nothing
})

test('a drawing of the outlines holds lamp and every line; nothing in front leaves it as it is', () => {
  const lamp = extentOf(gannetHead())
  expect(extentWith(lamp, [], 0)).toEqual(lamp)
  const wide = extentWith(lamp, [Float32Array.of(1100, 250, 4000, 900), Float32Array.of(1100, 200)], 5900)
  expect(wide).toEqual({ ...lamp, zToMm: 5900, rMm: 900 })
  const size = { width: 600, height: 400 }
  const camera = fitCamera(wide, size, { left: 10, right: 10, top: 10, bottom: 10 })
  for (const [z, r] of [
    [wide.zFromMm, 0],
    [5900, 900],
    [4000, -900],
  ] as const) {
    expect(xOfZ(camera, size, z)).toBeGreaterThanOrEqual(10 - 1e-9)
    expect(xOfZ(camera, size, z)).toBeLessThanOrEqual(590 + 1e-9)
    expect(yOfR(camera, size, r)).toBeGreaterThanOrEqual(10 - 1e-9)
    expect(yOfR(camera, size, r)).toBeLessThanOrEqual(390 + 1e-9)
  }
})
