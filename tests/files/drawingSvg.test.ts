// SVG: true size, and the same lengths as the DXF, its paths read by svg-pathdata and measured by chords.
import { SVGPathData, SVGPathDataTransformer } from 'svg-pathdata'
import { expect, test } from 'vitest'
import { listSheets } from '../../src/drawing/sheets.ts'
import { drawingDxf } from '../../src/files/drawingDxf.ts'
import { drawingSvg } from '../../src/files/drawingSvg.ts'
import { DEMOS } from '../../src/library/demos.ts'
import { drawn } from '../kit/drawn.ts'
import { expectWithin } from '../kit/expect.ts'
import { workshopLamp } from '../kit/ownSheets.ts'
import { loopLength, onLayer, readDxf } from '../kit/readDxf.ts'

/** Of a layer's paths; arcs become cubic curves first, by the package, then chords. */
function lengthOf(svg: string, layer: string): number {
  const group = new RegExp(`<g id="${layer}"[^>]*>([\\s\\S]*?)</g>`).exec(svg)?.[1] ?? ''
  return [...group.matchAll(/<path d="([^"]+)"/g)].reduce((sum, [, d]) => sum + pathLength(d ?? ''), 0)
}

function pathLength(d: string): number {
  const commands = new SVGPathData(d).toAbs().transform(SVGPathDataTransformer.A_TO_C()).commands
  let [x, y, x0, y0, sum] = [0, 0, 0, 0, 0]
  for (const c of commands) {
    if (c.type === SVGPathData.MOVE_TO) [x, y, x0, y0] = [c.x, c.y, c.x, c.y]
    else if (c.type === SVGPathData.LINE_TO) {
      sum += Math.hypot(c.x - x, c.y - y)
      ;[x, y] = [c.x, c.y]
    } else if (c.type === SVGPathData.CLOSE_PATH) {
      sum += Math.hypot(x0 - x, y0 - y)
      ;[x, y] = [x0, y0]
    } else if (c.type === SVGPathData.CURVE_TO) {
      let [u, v] = [x, y]
      for (let i = 1; i <= 200; i++) {
        const t = i / 200
        const at = (p: number, q: number, r: number, s: number) =>
          (1 - t) ** 3 * p + 3 * t * (1 - t) ** 2 * q + 3 * t * t * (1 - t) * r + t ** 3 * s
        const [a, b] = [at(x, c.x1, c.x2, c.x), at(y, c.y1, c.y2, c.y)]
        sum += Math.hypot(a - u, b - v)
        ;[u, v] = [a, b]
      }
      ;[x, y] = [c.x, c.y]
    }
  }
  return sum
}

test('lines on every layer are as long as in the DXF, of every sheet', async () => {
  for (const lamp of [...Object.values(DEMOS).map((make) => make()), workshopLamp()]) {
    for (const { name } of listSheets(lamp).filter((s) => s.ok)) {
      const drawing = drawn(lamp, name)
      const [dxf, svg] = [readDxf(await drawingDxf(drawing)), drawingSvg(drawing)]
      for (const layer of ['outline', 'slot', 'mark', 'bend', 'glue']) {
        const expected = onLayer(dxf.loops, layer.toUpperCase()).reduce((sum, l) => sum + loopLength(l), 0)
        // A cubic of 90° is longer than its arc by up to 3e-4 (the package's, not ours).
        expectWithin(lengthOf(svg, layer), expected, { abs: 5e-4 * expected + 1e-3, because: 'cubic curves for arcs' })
      }
    }
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
