// Ring and stand-offs of each lens, cover and film.

import { isStraight, type RowElement } from '../lamp/assembly.ts'
import type { Lamp } from '../lamp/schema.ts'
import { type RingSizes, standOffsOf } from '../layout/lensRing.ts'
import type { Point } from '../layout/shape.ts'
import { workshopOf } from '../library/typicalWorkshop.ts'
import { inEither } from '../num/quantity.ts'
import { lay } from './blank.ts'
import { circle, cross, label, linePath, polygonPath } from './path.ts'
import { refusedPlan, tooLarge } from './refusals.ts'
import { opticWords, ringNames, ringOf } from './ring.ts'
import { decimal, lineStepMm, MM, mm } from './sizes.ts'
import type { Item, Layer, Made, SheetPlan, Size } from './types.ts'

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1)

export function ringPlans(lamp: Lamp): SheetPlan[] {
  const all = ringNames(lamp)
  if (all.length === 0) {
    const why = 'The lamp has no lens, cover or film to be held.'
    return [refusedPlan('ring', 'Ring', why), refusedPlan('stand-off', 'Stand-offs', why)]
  }
  return all.flatMap(({ name, element }) => [
    { name: `ring-${name}`, title: `Ring of ${opticWords(element)}`, draw: () => drawRing(lamp, element) },
    {
      name: `stand-off-${name}`,
      title: `Stand-offs of ${opticWords(element)}`,
      draw: () => drawStandOff(lamp, element),
    },
  ])
}

function drawRing(lamp: Lamp, element: RowElement): Made {
  const made = ringOf(lamp, element)
  if (!made.ok) return made
  const { ring } = made
  const { lensRing, sheetMm, kerfMm } = workshopOf(lamp)
  const items: Item[] = [
    edge('outline', ring.round, ring.outer),
    edge('hole', ring.round, ring.inner),
    edge('mark', ring.round, ring.lens),
    ...ring.screws.map((p) => circle('hole', p, lensRing.screwMm / 2)),
    ...cross('mark', [0, 0], 10),
  ]
  const laid = lay({ items, sizes: ringSizes(ring, lensRing.screwMm), notes: [] }, sheetMm, kerfMm)
  if (!laid.fits)
    return { ok: false, why: `${tooLarge(lamp, laid, 'ring')} Cut it in two halves by hand, or state a larger sheet.` }
  const screwPlaces = ring.round
    ? `${ring.screws.length} screws on a circle of ${mm(ring.lens[0] * 2 + lensRing.widthMm)} ${MM}, the first ${decimal(180 / ring.screws.length)}° from x.`
    : `${ring.screws.length} screws halfway between the edge of ${opticWords(element)} and the ring’s.`
  return {
    ok: true,
    items: laid.items,
    sizes: laid.sizes,
    notes: [
      `${capital(opticWords(element))} lies on this ring, its edge on the marked line; a second ring alike holds it from above.`,
      screwPlaces,
      `Leave room for warmth: plastic lenses grow by about ${inEither('0.07 mm for 1 m and 1 K', '0.0005 in for 1 ft and 1 °F')} (from memory, for acrylic).`,
    ],
    stock: { material: '', thicknessMm: lensRing.heightMm },
    isCut: true,
    restsOn: ['lensRing', 'kerfMm', 'sheetMm'],
    ...(ring.round ? {} : { table: screwTable(ring) }),
  }
}

function edge(layer: Layer, round: boolean, [x, y]: Point): Item {
  if (round) return circle(layer, [0, 0], x)
  return polygonPath(layer, [
    [-x, -y],
    [x, -y],
    [x, y],
    [-x, y],
  ])
}

const screwTable = ({ screws }: RingSizes): string[][] => [
  ['', 'x', 'y'],
  ...screws.map(([x, y], i) => [`S${i + 1}`, mm(x), mm(y)]),
]

function ringSizes({ round, inner, lens, outer, screws }: RingSizes, screwMm: number): Size[] {
  const sign = round ? 'Ø ' : ''
  // Of a ring its widest line, carried up over its edge; of a frame its upper edges.
  const across = ([x, y]: Point, offsetMm: number): Size => ({
    ...{ kind: 'length', from: [-x, round ? 0 : y], to: [x, round ? 0 : y], text: `${sign}${mm(2 * x)}` },
    offsetMm: offsetMm + (round ? outer[1] : outer[1] - y),
  })
  const upright = ([x, y]: Point, offsetMm: number): Size => ({
    ...{ kind: 'length', from: [-x, -y], to: [-x, y], text: mm(2 * y) },
    offsetMm: offsetMm + outer[0] - x,
  })
  const step = lineStepMm(2 * Math.max(...outer))
  const [first] = screws
  const hole: Size[] = first
    ? [{ kind: 'arrow', at: first, from: [outer[0] + 12, first[1] + 10], text: `${screws.length} × Ø ${mm(screwMm)}` }]
    : []
  return [
    ...[inner, lens, outer].map((half, i) => across(half, 10 + i * step)),
    ...(round ? [] : [inner, lens, outer].map((half, i) => upright(half, 10 + i * step))),
    ...hole,
  ]
}

function drawStandOff(lamp: Lamp, element: RowElement): Made {
  const made = ringOf(lamp, element)
  if (!made.ok) return made
  const posts = standOffsOf(made.ring)
  const { screwMm } = workshopOf(lamp).lensRing
  const shortest = posts.reduce((least, p) => Math.min(least, p.lengthMm), Infinity)
  if (shortest <= 0)
    return {
      ok: false,
      why: `There is no room for the ring between the face and ${opticWords(element)}: its stand-offs would be ${mm(shortest)} ${MM} long.`,
    }
  const lengths = [...new Set(posts.map((p) => mm(p.lengthMm)))]
  const longest = posts.reduce((most, p) => Math.max(most, p.lengthMm), 0)
  // Twice the screw is the usual width of a spacer (common practice, no source).
  const half = screwMm
  const items: Item[] = [
    polygonPath('outline', [
      [0, -half],
      [longest, -half],
      [longest, half],
      [0, half],
    ]),
    linePath('mark', [-4, 0], [longest + 4, 0]),
    ...[1, -1].map((side) => linePath('mark', [0, (side * screwMm) / 2], [longest, (side * screwMm) / 2])),
    label('text', [longest / 2, half + 3], 'face end at the left', { align: 'middle', heightMm: 2.5 }),
  ]
  return {
    ok: true,
    items,
    sizes: [
      { kind: 'length', from: [0, -half], to: [longest, -half], offsetMm: -8, text: mm(longest) },
      { kind: 'length', from: [longest, -half], to: [longest, half], offsetMm: -8, text: `Ø ${mm(2 * half)}` },
    ],
    notes: [
      `${posts.length} tubes, one at each screw of the ring, bored ${mm(screwMm)} ${MM}; from the face (z = 0) to the lower side of the ring, which is ${mm(workshopOf(lamp).lensRing.heightMm)} ${MM} thick, under ${opticWords(element)}.`,
      lengths.length === 1
        ? `All ${lengths[0]} ${MM} long.`
        : 'Lengths by their places, in the table; the longest is drawn.',
      ...(isStraight({ ...element, decentreXMm: 0, decentreYMm: 0, turnDeg: 0 })
        ? []
        : [
            `${capital(opticWords(element))} is tilted: lengths are along the middle of each tube, whose upper end is not square.`,
          ]),
    ],
    stock: { material: '', thicknessMm: null },
    isCut: false,
    restsOn: ['lensRing'],
    table: [['', 'x', 'y', 'length'], ...posts.map((p, i) => [`S${i + 1}`, mm(p.xMm), mm(p.yMm), mm(p.lengthMm)])],
  }
}
