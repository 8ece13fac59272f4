// Steps of the tunnel: the walls square to the axis between two stretches of different size, as flat rings.
import { isRectangle, type Stretch, stretchesOf } from '../lamp/assembly.ts'
import type { Lamp, Tunnel } from '../lamp/schema.ts'
import { flatsPolygon } from '../layout/outline.ts'
import { workshopOf } from '../library/typicalWorkshop.ts'
import { lay } from './blank.ts'
import { circle, label, polygonPath } from './path.ts'
import { tooLarge } from './refusals.ts'
import { MM, mm } from './sizes.ts'
import type { Item, Layer, Made, SheetPlan, Size } from './types.ts'

export function stepPlans(lamp: Lamp, tunnel: Tunnel): SheetPlan[] {
  const stretches = stretchesOf(tunnel)
  const steps = stretches.flatMap((below, i) => {
    const above = stretches[i + 1]
    return above && (jump(below.outMm, above.inMm) || jump(below.outHeightMm, above.inHeightMm))
      ? [{ below, above }]
      : []
  })
  return steps.map(({ below, above }, i) => ({
    name: `step-${i + 1}`,
    title: `Step at z = ${mm(below.zOutMm)} ${MM}`,
    draw: () => drawStep(lamp, tunnel, below, above),
  }))
}

const jump = (a: number, b: number): boolean => Math.abs(a - b) > 1e-6

function drawStep(lamp: Lamp, tunnel: Tunnel, below: Stretch, above: Stretch): Made {
  const [x, y] = [
    [below.outMm, above.inMm],
    [below.outHeightMm, above.inHeightMm],
  ].map((pair) => ({ least: Math.min(...pair), most: Math.max(...pair) }))
  if (!x || !y) return { ok: false, why: 'The step has no size.' }
  const widensX = above.inMm - below.outMm
  const widensY = above.inHeightMm - below.outHeightMm
  if (widensX * widensY < 0)
    return { ok: false, why: 'The step widens one way and narrows the other: no single frame makes it.' }
  const { kerfMm, sheetMm, tunnelMaterial, tunnelThicknessMm } = workshopOf(lamp)
  const narrowest = Math.min(...[x.most - x.least, y.most - y.least].filter((w) => w > 0)) / 2
  if (narrowest <= kerfMm)
    return { ok: false, why: `The step is ${mm(narrowest)} ${MM} wide, no more than the kerf of ${mm(kerfMm)} ${MM}.` }
  if (x.most === x.least || y.most === y.least)
    return { ok: false, why: 'The step is there on two sides alone: two strips, not a frame.' }
  const section = (layer: Layer, width: number, height: number): Item => {
    if (isRectangle(tunnel)) return rectangle(layer, width, height)
    return tunnel.sides === 0 ? circle(layer, [0, 0], width / 2) : polygonPath(layer, flatsPolygon(tunnel.sides, width))
  }
  const items = [section('outline', x.most, y.most), section('hole', x.least, y.least)]
  const sizes = stepSizes(isRectangle(tunnel), x, y)
  const laid = lay({ items, sizes, notes: [] }, sheetMm, kerfMm)
  if (!laid.fits)
    return {
      ok: false,
      why: `${tooLarge(lamp, { widthMm: x.most, heightMm: y.most }, 'ring')} Cut it in two halves by hand, or state a larger sheet.`,
    }
  return {
    ok: true,
    items: [...laid.items, label('text', [laid.widthMm / 2, laid.heightMm / 2], 'Open', { align: 'middle' })],
    sizes: laid.sizes,
    notes: [
      `Stands at z = ${mm(below.zOutMm)} ${MM}, mirrored towards the ${widensX + widensY > 0 ? 'target' : 'face'}: its outer edge fits into the wider part, its opening is as wide as the narrower one inside.`,
    ],
    stock: { material: tunnelMaterial, thicknessMm: tunnelThicknessMm },
    isCut: true,
    restsOn: ['tunnelMaterial', 'tunnelThicknessMm', 'kerfMm', 'sheetMm'],
  }
}

const rectangle = (layer: Layer, width: number, height: number): Item =>
  polygonPath(layer, [
    [-width / 2, -height / 2],
    [width / 2, -height / 2],
    [width / 2, height / 2],
    [-width / 2, height / 2],
  ])

type Span = { least: number; most: number }

function stepSizes(isOblong: boolean, x: Span, y: Span): Size[] {
  const across = (width: number, height: number, offsetMm: number): Size => ({
    ...{ kind: 'length', from: [-width / 2, height], to: [width / 2, height], offsetMm, text: mm(width) },
  })
  const upright = (height: number, width: number, offsetMm: number): Size => ({
    ...{ kind: 'length', from: [width, -height / 2], to: [width, height / 2], offsetMm, text: mm(height) },
  })
  return [
    across(x.most, y.most / 2, 10),
    across(x.least, y.least / 2, -8),
    ...(isOblong ? [upright(y.most, -x.most / 2, 10), upright(y.least, -x.least / 2, -8)] : []),
  ]
}
