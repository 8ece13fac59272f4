// Drawings to scale: what is printed at 100 % has the scale's length, by the definition of the point (1/72 inch) alone.
import { expect, test } from 'vitest'
import { gannetHead, stileLamp } from '../../../src/library/demos.ts'
import { drawingScale } from '../../../src/report/book/figureMarks.ts'
import type { Figure } from '../../../src/report/book/model.ts'
import { planFigure } from '../../../src/report/book/planFigure.ts'
import { sectionFigure } from '../../../src/report/book/sectionFigure.ts'

const POINTS_PER_MM = 72 / 25.4

/** Width in mm on paper of the widest closed outline. */
const widestMm = ({ marks }: Figure) =>
  Math.max(
    ...marks.map((m) => {
      if (m.kind === 'circle') return 2 * m.r
      if (m.kind !== 'line') return 0
      const xs = m.points.map(([x]) => x)
      return m.closed ? Math.max(...xs) - Math.min(...xs) : 0
    }),
  ) / POINTS_PER_MM

test('the face of 200 mm is 100 mm wide at 1 : 2, whatever would have fitted', () => {
  const plan = planFigure(gannetHead(), { toScale: true })
  expect(plan.scale).toBe('1 : 2')
  expect(widestMm(plan)).toBeCloseTo(100, 1)
  expect(planFigure(gannetHead()).scale).toBeUndefined()
  expect(widestMm(planFigure(gannetHead()))).toBeGreaterThan(120)
})

test('a drawing stays within its width at its scale', () => {
  for (const lamp of [gannetHead(), stileLamp()])
    for (const figure of [planFigure(lamp, { toScale: true }), sectionFigure(lamp, [], { toScale: true })]) {
      const xs = figure.marks.flatMap((m) => (m.kind === 'line' ? m.points.map(([x]) => x) : []))
      expect(Math.min(...xs)).toBeGreaterThanOrEqual(0)
      expect(Math.max(...xs)).toBeLessThanOrEqual(figure.width)
    }
})

test('scales', () => {
  const of = (paperMmPerMm: number) => drawingScale(paperMmPerMm * POINTS_PER_MM).scale
  expect([0.099, 0.1, 0.19, 0.2, 0.5, 1, 1.9, 2, 7].map(of)).toEqual([
    '1 : 20',
    '1 : 10',
    '1 : 10',
    '1 : 5',
    '1 : 2',
    '1 : 1',
    '1 : 1',
    '2 : 1',
    '5 : 1',
  ])
})
