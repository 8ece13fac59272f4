// Outlines out of drawings written by hand: arcs by their sagitta, areas by their closed forms, units as the files state them.
import { describe, expect, test } from 'vitest'
import { bulgeArc } from '../../src/files/dxfOutline.ts'
import { arcSteps, CHORD_MM } from '../../src/files/outlineChords.ts'
import { readOutline } from '../../src/files/outlineFile.ts'
import { placeOutline } from '../../src/files/outlineLoops.ts'
import type { XmlElement } from '../../src/files/svgOutline.ts'
import { boxOfCorners, type Corner, signedArea } from '../../src/num/polygon.ts'
import { expectWithin } from '../kit/expect.ts'

const rounding = { abs: 1e-3, because: 'corners are kept in tenths of a micrometre' }
const noXml = () => null

type Groups = (number | string)[]
const dxf = (entities: Groups, { units, blocks = [] }: { units?: number; blocks?: Groups } = {}): string => {
  const header: Groups = units === undefined ? [] : [0, 'SECTION', 2, 'HEADER', 9, '$INSUNITS', 70, units, 0, 'ENDSEC']
  const drawn: Groups = [0, 'SECTION', 2, 'BLOCKS', ...blocks, 0, 'ENDSEC', 0, 'SECTION', 2, 'ENTITIES', ...entities]
  return [...header, ...drawn, 0, 'ENDSEC', 0, 'EOF', ''].join('\r\n')
}
const line = (x0: number, y0: number, x1: number, y1: number): Groups => [
  0,
  'LINE',
  8,
  'cut',
  10,
  x0,
  20,
  y0,
  11,
  x1,
  21,
  y1,
]
const circle = (x: number, y: number, r: number): Groups => [0, 'CIRCLE', 8, 'cut', 10, x, 20, y, 40, r]
/** x, y, bulge of each vertex; with the vertex identifiers (91) that some programs write. */
const polyline = (vertexes: readonly [number, number, number][], closed = 1): Groups => [
  ...[0, 'LWPOLYLINE', 8, 'cut', 90, vertexes.length, 70, closed],
  ...vertexes.flatMap(([x, y, b]) => [10, x, 20, y, 42, b, 91, 0]),
]
/** Two half circles of 20 mm about a square of 40. */
const slot = polyline([
  [20, -20, 1],
  [20, 20, 0],
  [-20, 20, 1],
  [-20, -20, 0],
])
const SLOT_MM2 = 40 * 40 + Math.PI * 400

async function cornersOf(text: string, parse: (text: string) => XmlElement | null = noXml) {
  const read = await readOutline(text, parse)
  if (!read.ok) throw new Error(read.why)
  return read.outline
}
const whyOf = async (text: string, parse: (text: string) => XmlElement | null = noXml) => {
  const read = await readOutline(text, parse)
  return read.ok ? 'read' : read.why
}
/** Chords within the tolerance take at most two thirds of sagitta × length from a curve. */
const within = (lengthMm: number) => ({ abs: (2 / 3) * CHORD_MM * lengthMm + 1e-3, because: 'chords within 0.02 mm' })

describe('chords', () => {
  test('as many as the sagitta r (1 − cos δ/2) allows, and no more', () => {
    for (const r of [1, 20, 300]) {
      const n = arcSteps(r, 2 * Math.PI, CHORD_MM)
      const sagitta = (k: number) => r * (1 - Math.cos(Math.PI / k))
      expect(sagitta(n)).toBeLessThanOrEqual(CHORD_MM)
      expect(sagitta(n - 1)).toBeGreaterThan(CHORD_MM)
    }
  })
  test('a bulge: height of the arc over its chord = bulge × half the chord', () => {
    for (const bulge of [0.2, -0.5, 1, 2.5]) {
      const points = bulgeArc([0, 0], [10, 0], bulge, 1e-4)
      // Above zero anticlockwise: to the right of the way, which is below.
      const height = bulge > 0 ? Math.min(...points.map(([, y]) => y)) : Math.max(...points.map(([, y]) => y))
      expectWithin(height, -5 * bulge, { abs: 2e-4, because: 'chords within a tenth of a micrometre' })
      expect([points[0], points.at(-1)]).toEqual([
        [0, 0],
        [10, 0],
      ])
    }
  })
})

describe('DXF', () => {
  test('a closed polyline with bulges; no unit: millimetres, and it says so', async () => {
    const { corners, notes } = await cornersOf(dxf(slot))
    expectWithin(signedArea(corners), SLOT_MM2, within(2 * Math.PI * 20))
    expect(boxOfCorners(corners).toX).toBeCloseTo(40, 1)
    expect(notes[0]).toBe('The drawing names no unit; taken as millimetres.')
    for (const [x, y] of corners) {
      if (Math.abs(x) > 20.0001) expectWithin(Math.hypot(Math.abs(x) - 20, y), 20, rounding)
    }
  })
  test('inches', async () => {
    const { corners, notes } = await cornersOf(dxf(slot, { units: 1 }))
    expectWithin(signedArea(corners), SLOT_MM2 * 25.4 ** 2, within(2 * Math.PI * 20 * 25.4))
    expect(notes[0]).toBe('Drawn in inches.')
  })
  test('lines and arcs in any order and sense, with ends 0.03 mm apart, are one outline', async () => {
    const parts = [
      ...line(-20, 20, 20.03, 20),
      ...[0, 'ARC', 8, 'cut', 10, 20, 20, 0, 40, 20, 50, -90, 51, 90],
      ...line(20, -20, -20, -20),
      ...[0, 'ARC', 8, 'cut', 10, -20, 20, 0, 40, 20, 50, 90, 51, 270],
    ]
    const { corners } = await cornersOf(dxf(parts))
    expectWithin(signedArea(corners), SLOT_MM2, within(2 * Math.PI * 20 + 40))
  })
  test('a circle is its holes’ outline; holes become circles, an island and a part beside are left aside', async () => {
    const drawing = [...circle(0, 0, 50), ...circle(20, 5, 4), ...circle(20, 5, 1), ...circle(90, 0, 10)]
    const square = polyline([
      [-24, -4, 0],
      [-16, -4, 0],
      [-16, 4, 0],
      [-24, 4, 0],
    ])
    const { corners, keepOuts, notes } = await cornersOf(dxf([...drawing, ...square, ...line(0, 0, 3, 3)]))
    expectWithin(signedArea(corners), Math.PI * 2500, within(2 * Math.PI * 50))
    expect(keepOuts.map((k) => [k.xMm, k.yMm])).toEqual([
      [-20, 0],
      [20, 5],
    ])
    expectWithin(keepOuts[0]!.diameterMm, 8 * Math.SQRT2, { abs: 2e-3, because: 'rounded up' })
    expectWithin(keepOuts[1]!.diameterMm, 8, { abs: 5e-3, because: 'rounded up' })
    expect(notes).toContain('1 smaller outline beside or across the largest left aside.')
    expect(notes).toContain('1 line with open ends left aside.')
  })
  test('an ellipse, and a block placed twice as large and turned by 90°', async () => {
    const ellipse = [0, 'ELLIPSE', 8, 'cut', 10, 0, 20, 0, 11, 30, 21, 0, 40, 0.5, 41, 0, 42, 2 * Math.PI]
    const { corners } = await cornersOf(dxf(ellipse))
    expectWithin(signedArea(corners), Math.PI * 30 * 15, within(150))
    const blocks = [0, 'BLOCK', 2, 'plate', 10, 0, 20, 0, ...ellipse, 0, 'ENDBLK']
    const placed = await cornersOf(dxf([0, 'INSERT', 2, 'plate', 10, 100, 20, 0, 41, 2, 42, 2, 50, 90], { blocks }))
    const { fromX, toX, fromY, toY } = boxOfCorners(placed.corners)
    for (const [seen, expected] of [
      [fromX, 70],
      [toX, 130],
      [fromY, -60],
      [toY, 60],
    ] as const)
      expectWithin(seen, expected, { abs: CHORD_MM, because: 'chords' })
  })
  test('a spline of degree 2 with the weights of a quarter circle is one', async () => {
    const quarter = [0, 'SPLINE', 8, 'cut', 70, 4, 71, 2, 72, 6, 73, 3]
    const knots = [0, 0, 0, 1, 1, 1].flatMap((k) => [40, k])
    const weights = [1, Math.SQRT1_2, 1].flatMap((w) => [41, w])
    const control = [
      [30, 0],
      [30, 30],
      [0, 30],
    ].flatMap(([x, y]) => [10, x!, 20, y!])
    const sides = [...line(0, 30, 0, 0), ...line(0, 0, 30, 0)]
    const { corners } = await cornersOf(dxf([...quarter, ...knots, ...weights, ...control, ...sides]))
    expectWithin(signedArea(corners), (Math.PI / 4) * 900, within(15 * Math.PI))
  })
  test('an old polyline of vertexes, drawn from below', async () => {
    const vertex = (x: number, y: number): Groups => [0, 'VERTEX', 8, 'cut', 10, x, 20, y]
    const old = [
      0,
      'POLYLINE',
      8,
      'cut',
      70,
      1,
      230,
      -1,
      ...vertex(0, 0),
      ...vertex(10, 0),
      ...vertex(10, 5),
      0,
      'SEQEND',
    ]
    const { corners } = await cornersOf(dxf(old))
    expect(boxOfCorners(corners)).toEqual({ fromX: -10, toX: 0, fromY: 0, toY: 5 })
  })
  test.each([
    [dxf(line(0, 0, 5, 5)), 'No closed outline: 1 line with open ends, more than 0.05 mm apart.'],
    [dxf([]), 'The drawing has no lines.'],
    [dxf(slot, { units: 3 }), 'The drawing’s unit ($INSUNITS) is none of a workshop’s; save it in millimetres.'],
    ['hello\nworld\n', 'No DXF drawing: it has no section of entities.'],
    ['AutoCAD Binary DXF\r\n', 'A binary DXF; save it as text (ASCII).'],
    [
      dxf(
        polyline([
          [0, 0, 0],
          [40, 40, 0],
          [40, 0, 0],
          [0, 30, 0],
        ]),
      ),
      'The largest outline crosses itself near x 17.1, y 17.1 mm.',
    ],
  ])('refused %#', async (text, sentence) => expect(await whyOf(text)).toBe(sentence))
})

/** A parsed element, as a page's own parser gives it. */
const element = (
  tagName: string,
  attributes: Record<string, string | number>,
  ...children: XmlElement[]
): XmlElement => ({
  tagName,
  getAttribute: (name) => (name in attributes ? String(attributes[name]) : null),
  children,
})
const svg = (attributes: Record<string, string | number>, ...children: XmlElement[]) => {
  const root = element('svg', attributes, ...children)
  return (text: string) => (text.startsWith('<') ? root : null)
}

describe('SVG', () => {
  const arcs = element('path', { d: 'M20-20A20 20 0 0 1 20 20H-20a20,20 0 0 1 0-40z' })
  test('a path with arcs on a page in millimetres', async () => {
    const { corners, notes } = await cornersOf(
      '<svg>',
      svg({ width: '100mm', height: '50mm', viewBox: '-50 -25 100 50' }, arcs),
    )
    expectWithin(signedArea(corners), SLOT_MM2, within(2 * Math.PI * 20))
    expect(notes[0]).toBe('Its page is given in mm; a unit is 1 mm.')
  })
  test('pixels are 96 to the inch; y runs down in the file and up on the face', async () => {
    const corner = element('polygon', { points: '0,0 96,0 96,192' })
    const { corners, notes } = await cornersOf('<svg>', svg({ width: 200, height: 200 }, corner))
    expect(boxOfCorners(corners)).toEqual({ fromX: 0, toX: 25.4, fromY: -50.8, toY: 0 })
    expect(notes[0]).toBe('Its page is given in pixels, 96 to the inch.')
  })
  test('transforms of groups, the last first; a rounded rectangle', async () => {
    const rect = element('rect', { x: -10, y: -5, width: 20, height: 10, rx: 3 })
    const group = element('g', { transform: 'translate(100 0) rotate(90) scale(2)' }, rect)
    const { corners } = await cornersOf('<svg>', svg({ width: '300mm', viewBox: '0 0 300 300' }, group))
    expectWithin(signedArea(corners), 40 * 20 - (4 - Math.PI) * 36, within(12 * Math.PI))
    const { fromX, toX, fromY, toY } = boxOfCorners(corners)
    for (const [seen, expected] of [
      [fromX, 90],
      [toX, 110],
      [fromY, -20],
      [toY, 20],
    ] as const)
      expectWithin(seen, expected, rounding)
  })
  test('cubic and quadratic curves: 2/3 of base × height under a parabola', async () => {
    const d = 'M0 0Q30 60 60 0T120 0V-40H0Z' // one arch to each side; the second goes below
    const { corners } = await cornersOf(
      '<svg>',
      svg({ width: '200mm', viewBox: '0 0 200 200' }, element('path', { d })),
    )
    // 60 wide, 30 high each: 1200 mm² more, 1200 less, on 120 by 40.
    expect(await whyOf('<svg>', svg({}, element('path', { d: 'M0 0L5 5' })))).toMatch(/^No closed outline/)
    expectWithin(Math.abs(signedArea(corners)), 4800, { abs: 3, because: 'chords within 0.02 mm of 170 mm' })
  })
  test('what is hidden, defined for later, or text is not drawn; broken XML is refused', async () => {
    const big = { cx: 0, cy: 0, r: 90 }
    const root = svg(
      { width: '200mm', viewBox: '0 0 200 200' },
      element('defs', {}, element('circle', big)),
      element('g', { style: 'display:none' }, element('circle', big)),
      element('text', {}),
      element('circle', { cx: 50, cy: 50, r: 10 }),
    )
    const { corners, notes } = await cornersOf('<svg>', root)
    expectWithin(signedArea(corners), Math.PI * 100, within(20 * Math.PI))
    expect(notes).toContain('Left aside: 1 × text.')
    expect(await whyOf('<svg', noXml)).toBe('The SVG is broken: its XML can’t be read.')
    expect(await whyOf('<svg>', () => element('html', {}))).toBe('No SVG drawing: its root is another element.')
  })
})

test('more corners than a document holds are thinned, and it says how far', async () => {
  const wavy = Array.from({ length: 3000 }, (_, i): [number, number, number] => {
    const at = (2 * Math.PI * i) / 3000
    const r = 100 + 5 * Math.sin(24 * at)
    return [r * Math.cos(at), r * Math.sin(at), 0]
  })
  const { corners, notes } = await cornersOf(dxf(polyline(wavy)))
  expect(corners.length).toBeLessThanOrEqual(400)
  expectWithin(signedArea(corners), Math.PI * (10_000 + 12.5), { rel: 2e-3, because: 'thinned' })
  expect(notes.find((n) => n.includes('thinned'))).toMatch(/^\d+ corners were thinned to \d+, within 0\.\d+ mm\.$/)
})

test('into a lamp: its middle on the axis, a quarter turn', () => {
  const corners: Corner[] = [
    [10, 10],
    [50, 10],
    [50, 30],
  ]
  const keepOuts = [{ shape: 'hole' as const, xMm: 40, yMm: 20, diameterMm: 3, why: '' }]
  const placed = placeOutline({ corners, keepOuts, notes: [] }, { centred: true, turned: true })
  expect(placed.corners).toEqual([
    [10, -20],
    [10, 20],
    [-10, 20],
  ])
  expect(placed.keepOuts[0]).toMatchObject({ xMm: 0, yMm: 10 })
  expect(placeOutline({ corners, keepOuts, notes: [] }, { centred: false, turned: false }).corners).toEqual(corners)
})
