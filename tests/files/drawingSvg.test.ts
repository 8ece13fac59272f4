// SVG: true size, and the same lengths as the DXF, its paths read by svg-pathdata and measured by chords.
import { SVGPathData, SVGPathDataTransformer } from 'svg-pathdata'
import { expect, test } from 'vitest'
import { listSheets } from '../../src/drawing/sheets.ts'
import { drawingDxf } from '../../src/files/drawingDxf.ts'
import { drawingSvg } from '../../src/files/drawingSvg.ts'
import { DEMOS, gannetHead } from '../../src/library/demos.ts'
import { drawn } from '../kit/drawn.ts'
import { expectWithin } from '../kit/expect.ts'
import { workshopLamp } from '../kit/ownSheets.ts'
import { loopArea, loopLength, onLayer, onlyLoop, readDxf } from '../kit/readDxf.ts'

/** A layer's paths as points; arcs become cubic curves first, by the package, then chords. */
function pathsOf(svg: string, layer: string): [number, number][][] {
  const group = new RegExp(`<g id="${layer}"[^>]*>([\\s\\S]*?)</g>`).exec(svg)?.[1] ?? ''
  return [...group.matchAll(/<path d="([^"]+)"/g)].map(([, d]) => pathPoints(d ?? ''))
}

function pathPoints(d: string): [number, number][] {
  const points: [number, number][] = []
  for (const c of new SVGPathData(d).toAbs().transform(SVGPathDataTransformer.A_TO_C()).commands) {
    const [x, y] = points.at(-1) ?? [0, 0]
    if (c.type === SVGPathData.MOVE_TO || c.type === SVGPathData.LINE_TO) points.push([c.x, c.y])
    if (c.type === SVGPathData.CLOSE_PATH) points.push(points[0] ?? [0, 0])
    if (c.type === SVGPathData.CURVE_TO)
      for (let i = 1; i <= 200; i++) {
        const t = i / 200
        const at = (p: number, q: number, r: number, s: number) =>
          (1 - t) ** 3 * p + 3 * t * (1 - t) ** 2 * q + 3 * t * t * (1 - t) * r + t ** 3 * s
        points.push([at(x, c.x1, c.x2, c.x), at(y, c.y1, c.y2, c.y)])
      }
  }
  return points
}

const lengthOf = (paths: readonly [number, number][][]): number =>
  paths.reduce((sum, points) => sum + loopLength({ points, closed: false }), 0)

test('lines on every layer are as long as in the DXF, of every sheet', async () => {
  for (const lamp of [...Object.values(DEMOS).map((make) => make()), workshopLamp()]) {
    for (const { name } of listSheets(lamp).filter((s) => s.ok)) {
      const drawing = drawn(lamp, name)
      const [dxf, svg] = [readDxf(await drawingDxf(drawing)), drawingSvg(drawing)]
      for (const layer of ['outline', 'slot', 'mark', 'bend', 'glue']) {
        const expected = onLayer(dxf.loops, layer.toUpperCase()).reduce((sum, l) => sum + loopLength(l), 0)
        // A cubic of 90° is longer than its arc by up to 3e-4 (the package's, not ours).
        expectWithin(lengthOf(pathsOf(svg, layer)), expected, {
          abs: 5e-4 * expected + 1e-3,
          because: 'cubic curves for arcs',
        })
      }
    }
  }
})

test('arcs bend the right way: outlines enclose as much as in the DXF', async () => {
  for (const [lamp, sheet] of [
    [gannetHead(), 'tunnel-part-2'],
    [workshopLamp(), 'board-seven'],
  ] as const) {
    const drawing = drawn(lamp, sheet)
    const [points] = pathsOf(drawingSvg(drawing), 'outline')
    const expected = loopArea(onlyLoop(readDxf(await drawingDxf(drawing)), 'OUTLINE'))
    expectWithin(loopArea({ points: points ?? [] }), expected, { rel: 1e-3, because: 'cubic curves for arcs' })
  }
})

test('one unit is one millimetre, the page as large as the drawing', () => {
  const drawing = drawn(workshopLamp(), 'ring-lens')
  const head = /width="([\d.]+)mm" height="([\d.]+)mm" viewBox="0 0 ([\d.]+) ([\d.]+)"/.exec(drawingSvg(drawing))
  const [width, height, w, h] = (head ?? []).slice(1).map(Number)
  expect([width, height]).toEqual([w, h])
  expectWithin(width ?? 0, drawing.box.toX - drawing.box.fromX, { abs: 1e-6, because: 'rounding' })
})

test('names from the lamp can’t close a tag', () => {
  const svg = drawingSvg(drawn(workshopLamp(), 'face'))
  expect(svg).toContain('Bench &amp; &lt;stars&gt;')
  expect(svg).not.toContain('<stars>')
})

test('y runs up in the drawing, down in the file', () => {
  const lamp = workshopLamp()
  const drawing = drawn(lamp, 'face')
  const svg = drawingSvg(drawing)
  // The cable's hole, the only one of 5.8 mm, stands at y = 85.
  const cy = Number(/cy="([\d.]+)" r="2.9"/.exec(svg)?.[1])
  expectWithin(cy, drawing.box.toY - 85, { abs: 1e-5, because: 'rounding' })
})
