// The small picture beside each step of a new lamp, from the lamp's own values.
import type { Lamp, OpticType } from '../../../lamp/schema.ts'
import { powerOf } from '../../../library/typicalPower.ts'
import { line, shape, text } from '../../../report/book/figureMarks.ts'
import type { Figure, Mark } from '../../../report/book/model.ts'
import { planFigure } from '../../../report/book/planFigure.ts'
import { sectionFigure } from '../../../report/book/sectionFigure.ts'

const SIZE = { width: 160, height: 110 }
const INK = '#111111'
const LIGHT = '#e0a100'
const NOTHING: Figure = { ...SIZE, marks: [], words: '' }
const BARE: OpticType = { kind: 'bare', id: 'bare', name: '' }

/** One board by itself. */
export function boardPicture(lamp: Lamp): Figure {
  const [type] = lamp.boardTypes
  if (!type) return NOTHING
  const board = { id: 'B1', type: type.id, xMm: 0, yMm: 0, turnDeg: 0, currentA: 0 }
  const sizeMm = type.outline.shape === 'disc' ? type.outline.diameterMm : 100
  const figure = planFigure(
    { ...lamp, boards: [board], face: { ...lamp.face, shape: 'round', sizeMm } },
    { plain: true },
  )
  return { ...figure, words: `A board of ${type.sites.length}.` }
}

export const facePicture = (lamp: Lamp): Figure => planFigure(lamp, { plain: true })
export const tunnelPicture = (lamp: Lamp): Figure => ({
  ...sectionFigure({ ...lamp, lens: null }, [], { plain: true }),
  words: lamp.tunnel ? 'Face and tunnel, cut along the axis.' : 'The face alone, cut along the axis.',
})
export const lensPicture = (lamp: Lamp): Figure => sectionFigure(lamp, [], { plain: true })

/** One emitter with its optic, true to scale, and where its light falls to half. */
export function opticPicture(lamp: Lamp): Figure {
  const [emitter] = lamp.emitterTypes
  if (!emitter) return NOTHING
  const optic = lamp.opticTypes.find((o) => o.id === lamp.optic) ?? BARE
  const hasOptic = optic.kind === 'collimator'
  const topMm = hasOptic ? optic.heightMm : emitter.heightMm
  const exitMm = hasOptic ? optic.exitDiameterMm : emitter.bodyMm
  const perMm = 36 / Math.max(topMm, exitMm)
  const at = (z: number, y: number) => [16 + z * perMm, 55 - y * perMm] as const
  const foot = emitter.bodyMm / 2
  const halfDeg = Math.min(80, (hasOptic ? optic.fwhmDeg : 120) / 2)
  const rise = Math.tan((halfDeg * Math.PI) / 180)
  const [x, top] = at(topMm, exitMm / 2)
  const reach = Math.min(150 - x, (top - 4) / rise)
  const beam = [1, -1].map((side) =>
    line([at(topMm, (side * exitMm) / 2), [x + reach, 55 - side * (55 - top + reach * rise)]], {
      stroke: LIGHT,
      width: 1.2,
      dash: [4, 2],
    }),
  )
  const body: Mark[] = [
    shape([at(0, -foot), at(0, foot), at(emitter.heightMm, foot), at(emitter.heightMm, -foot)], {
      stroke: INK,
      width: 0.8,
      fill: '#d7d7d2',
    }),
  ]
  if (hasOptic)
    body.push(
      shape([at(0, -foot), at(topMm, -exitMm / 2), at(topMm, exitMm / 2), at(0, foot)], {
        stroke: '#44586a',
        width: 0.8,
        fill: '#eaf1f6c0',
      }),
    )
  return { ...SIZE, marks: [...beam, ...body], words: `An emitter’s light falls to half ${halfDeg}° off its axis.` }
}

/** Supply, main fuse, drivers, boards. */
export function supplyPicture(lamp: Lamp): Figure {
  const words = `What the lamp runs on: ${powerOf(lamp).value.supply.name}.`
  if (!lamp.power)
    return { ...SIZE, marks: [text([80, 58], 'taken as typical', { anchor: 'middle', size: 10 })], words }
  const { supply, harness } = lamp.power
  const box = (x: number, y: number, wide: number, high: number, fill: string): Mark =>
    shape(
      [
        [x, y],
        [x + wide, y],
        [x + wide, y + high],
        [x, y + high],
      ],
      { stroke: INK, width: 0.9, fill },
    )
  const wire = (...points: (readonly [number, number])[]) => line(points, { stroke: INK, width: 1 })
  const [first, last] = [18, 74]
  const volts = supply.kind === 'pack' ? `${supply.series} s ${supply.parallel} p` : `${supply.volts} V`
  const marks: Mark[] = [
    box(4, 40, 44, 26, '#efe6d2'),
    text([26, 56], volts, { anchor: 'middle', size: 9 }),
    wire([48, 53], [74, 53]),
    box(54, 49, 14, 8, '#ffffff'),
    text([61, 68], `${harness.main.fuse?.amps ?? '–'} A`, { anchor: 'middle', size: 8 }),
    wire([74, first + 7], [74, last + 7]),
    ...[first, (first + last) / 2, last].flatMap((y) => [
      wire([74, y + 7], [124, y + 7]),
      box(84, y, 26, 14, '#dfe7ee'),
      { kind: 'circle', x: 136, y: y + 7, r: 11, stroke: '#37604f', width: 0.9, fill: '#dfeae4' } as const,
    ]),
    text([97, 104], `${lamp.boards.length} ×`, { anchor: 'middle', size: 9 }),
  ]
  return { ...SIZE, marks, words }
}
