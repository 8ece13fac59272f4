// DXF read back by a parser that is not ours, against the lamp.
import { describe, expect, test } from 'vitest'
import { listSheets } from '../../src/drawing/sheets.ts'
import { drawingDxf } from '../../src/files/drawingDxf.ts'
import { faceAreaMm2 } from '../../src/lamp/facePlate.ts'
import { lampFromBoard } from '../../src/lamp/place.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { outlineArea } from '../../src/layout/outline.ts'
import { DEMOS } from '../../src/library/demos.ts'
import { drawn, drawnDxf } from '../kit/drawn.ts'
import { expectWithin } from '../kit/expect.ts'
import { lampWith, type Overrides } from '../kit/lampWith.ts'
import { RING, workshopLamp } from '../kit/ownSheets.ts'
import { loopArea, onLayer, onlyLoop, readDxf } from '../kit/readDxf.ts'

const ROUNDED = { abs: 0.02, because: 'coordinates rounded to 1e-6 mm, 2000 chords an arc' }

describe('the face', () => {
  const lamp = workshopLamp()
  test('outline, in millimetres, half a kerf larger', async () => {
    const read = await drawnDxf(lamp, 'face')
    expect(read.insunits).toBe(4)
    expectWithin(loopArea(onlyLoop(read, 'OUTLINE')), faceAreaMm2({ ...lamp.face, sizeMm: 180.2 }), ROUNDED)
  })

  test('holes: keep-outs, screws of boards as they are turned, stand-offs; none of the board on a wedge', async () => {
    const read = await drawnDxf(lamp, 'face')
    const holes = onLayer(read.circles, 'HOLE')
    const expected: [number, number, number][] = [
      [0, 85, 6],
      ...lamp.boards
        .slice(0, 2)
        .flatMap((b) => [7, -7].map((x): [number, number, number] => [...lampFromBoard(b, x, 0), 2.2])),
      // On a circle of 120 + 16 mm, the first halfway between two.
      ...[30, 90, 150, 210, 270, 330].map((at): [number, number, number] => [
        68 * Math.cos((at * Math.PI) / 180),
        68 * Math.sin((at * Math.PI) / 180),
        RING.screwMm,
      ]),
    ]
    expect(holes).toHaveLength(expected.length)
    for (const [x, y, diameter] of expected) {
      const hole = holes.find((h) => Math.hypot(h.x - x, h.y - y) < 1e-5)
      // Half the kerf of 0.2 mm inwards.
      expectWithin(hole?.radius ?? 0, diameter / 2 - 0.1, { abs: 1e-6, because: 'rounding' })
    }
    expect(read.texts.map((t) => t.text).join(' ')).toContain('Board C stands on a wedge of 15°')
    expect(read.texts.map((t) => t.text).join(' ')).toContain('Board B stands on a spacer of 4 mm')
  })

  test('the slot, its round ends, its place and turn', async () => {
    const slot = onlyLoop(await drawnDxf(lamp, 'face'), 'SLOT')
    expectWithin(loopArea(slot), 15 * 4.8 + Math.PI * 2.4 ** 2, ROUNDED)
    const n = slot.points.length
    const [x, y] = [0, 1].map((k) => slot.points.reduce((sum, p) => sum + (p[k] ?? 0), 0) / n)
    expectWithin(x ?? 0, 10, { abs: 0.05, because: 'points lie denser on the ends, evenly' })
    expectWithin(y ?? 0, -85, { abs: 0.05, because: 'points lie denser on the ends, evenly' })
    const far = slot.points.reduce((a, b) => (b[0] > a[0] ? b : a))
    // The farthest point to +x of a capsule turned by 30°: 7.5 cos 30° + 2.4.
    expectWithin(far[0] - 10, 7.5 * Math.cos(Math.PI / 6) + 2.4, { abs: 1e-3, because: '2000 points on the end' })
  })

  test('boards as their outlines with notches, on the layer for marks', async () => {
    const marks = onLayer((await drawnDxf(lamp, 'face')).loops, 'MARK').filter((l) => l.closed)
    const [type] = lamp.boardTypes
    if (!type) throw new Error('no type')
    expect(marks).toHaveLength(3)
    for (const star of marks.slice(0, 2)) expectWithin(loopArea(star), outlineArea(type.outline), ROUNDED)
  })

  test('without a kerf, and as a paper template, the finished sizes', async () => {
    const uncut = readDxf(await drawingDxf(drawn(lamp, 'face', { withKerf: false })))
    expectWithin(loopArea(onlyLoop(uncut, 'OUTLINE')), faceAreaMm2(lamp.face), ROUNDED)
    expect(uncut.texts.map((t) => t.text).join(' ')).toContain('no room for a cutter’s kerf')
  })

  const faces: Overrides<Lamp['face']>[] = [
    { shape: 'round', sizeMm: 200 },
    { shape: 'square', sizeMm: 190 },
    { shape: 'rectangle', sizeMm: 240, heightMm: 200 },
    {
      ...{ shape: 'polygon', sizeMm: 320 },
      corners: [
        [-120, -100],
        [120, -100],
        [120, 90],
        [0, 160],
        [-120, 90],
      ],
    },
  ]
  test.each(faces)('$shape', async (face) => {
    const made = lampWith({ face, boards: [], workshop: { kerfMm: 0 } })
    const read = await drawnDxf(made, 'face')
    const round = onLayer(read.circles, 'OUTLINE')[0]
    const area = round ? Math.PI * round.radius ** 2 : loopArea(onlyLoop(read, 'OUTLINE'))
    expectWithin(area, faceAreaMm2(made.face), ROUNDED)
  })
})

describe('ring and stand-offs', () => {
  const lamp = workshopLamp()
  test('a round ring: opening less the lip, edge, screws on their circle', async () => {
    const read = await drawnDxf(lamp, 'ring-lens')
    expectWithin(onLayer(read.circles, 'OUTLINE')[0]?.radius ?? 0, 60 + 16 + 0.1, { abs: 1e-6, because: 'rounding' })
    const holes = onLayer(read.circles, 'HOLE').toSorted((a, b) => b.radius - a.radius)
    const [opening, ...screws] = holes
    expectWithin(opening?.radius ?? 0, 60 - 3 - 0.1, { abs: 1e-6, because: 'rounding' })
    expect(screws).toHaveLength(6)
    for (const s of screws) {
      expectWithin(Math.hypot(s.x - (opening?.x ?? 0), s.y - (opening?.y ?? 0)), 68, { abs: 1e-5, because: 'rounding' })
      expectWithin(s.radius, 1.9, { abs: 1e-6, because: 'rounding' })
    }
  })

  test('stand-offs reach from the face to under the ring: 150 − 8 mm', async () => {
    const { corners } = onlyLoop(await drawnDxf(lamp, 'stand-off-lens'), 'OUTLINE')
    const xs = corners.map(([x]) => x)
    expectWithin(Math.max(...xs) - Math.min(...xs), 142, { abs: 1e-6, because: 'rounding' })
  })

  test('of a tilted lens each has its own length', async () => {
    const tilted = lampWith({ lens: { tiltYDeg: 10 } }, lamp)
    const { texts } = await drawnDxf(tilted, 'stand-off-lens')
    // Screw 1 stands at 30°: x = 68 cos 30° under the ring's lower side, 8 mm under the lens; right-handed about y.
    const [x, under, tilt] = [68 * Math.cos(Math.PI / 6), -8, (10 * Math.PI) / 180]
    const length = 150 - x * Math.sin(tilt) + under * Math.cos(tilt)
    expect(texts.map((t) => t.text)).toContain(`${Number(length.toFixed(2))}`)
  })
})

test('every sheet of every example is read without a fault, each closed line enclosing something', async () => {
  for (const [name, make] of Object.entries(DEMOS)) {
    const lamp = make()
    for (const sheet of listSheets(lamp).filter((s) => s.ok)) {
      const read = await drawnDxf(lamp, sheet.name)
      expect(read.texts.length, `${name} ${sheet.name}`).toBeGreaterThan(10)
      const cut = read.loops.filter((l) => l.layer === 'OUTLINE')
      for (const loop of cut) expect(loop.closed && loopArea(loop) > 1, `${name} ${sheet.name}`).toBe(true)
      expect(cut.length + onLayer(read.circles, 'OUTLINE').length, `${name} ${sheet.name}`).toBe(1)
    }
  }
})
