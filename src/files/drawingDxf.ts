// A drawing as DXF, mm ($INSUNITS 4): closed polylines with bulges, circles, lines of text, each on the layer of its function.
// Written by @tarikjabiri/dxf (MIT), loaded when a drawing is asked for; dxf-writer, the other kept package, has no bulges.
import type { Colors } from '@tarikjabiri/dxf'
import { type Drawing, type Item, LAYERS, type Layer } from '../drawing/types.ts'
import { printable } from '../lamp/printable.ts'

/** Indexed colours of the format (7 black or white, 5 blue, 3 green, 30 orange, 8 grey) and its line types. */
const LAYER_LOOK: Record<Layer, { colour: number; dashed?: true }> = {
  outline: { colour: 7 },
  hole: { colour: 7 },
  slot: { colour: 7 },
  bend: { colour: 5, dashed: true },
  glue: { colour: 3, dashed: true },
  mark: { colour: 30 },
  dimension: { colour: 8 },
  text: { colour: 8 },
  frame: { colour: 8 },
}

/** Text of a DXF file (ASCII form, release AC1021, UTF-8). Names of layers in capitals, as cutters’ programs like them. */
export async function drawingDxf({ items }: Drawing): Promise<string> {
  const dxf = await import('@tarikjabiri/dxf')
  const writer = new dxf.DxfWriter()
  writer.setUnits(dxf.Units.Millimeters)
  // Its default names the package as the user who saved the file.
  writer.setVariable('$LASTSAVEDBY', { 1: 'Lampwright' })
  writer.addLType('DASHED', 'Dashed __ __ __', [6, -2])
  for (const layer of LAYERS) {
    const { colour, dashed } = LAYER_LOOK[layer]
    writer.addLayer(layer.toUpperCase(), colour as Colors, dashed ? 'DASHED' : 'CONTINUOUS')
  }
  const add = (item: Item) => {
    const layerName = item.layer.toUpperCase()
    if (item.kind === 'circle') writer.addCircle(dxf.point3d(n(item.x), n(item.y)), n(item.radiusMm), { layerName })
    else if (item.kind === 'path') {
      const vertices = item.vertices.map((v) => ({
        point: dxf.point2d(n(v.x), n(v.y)),
        ...(v.bulge === 0 ? {} : { bulge: v.bulge }),
      }))
      writer.addLWPolyline(vertices, {
        layerName,
        flags: item.closed ? dxf.LWPolylineFlags.Closed : dxf.LWPolylineFlags.None,
      })
    } else {
      const at = dxf.point3d(n(item.x), n(item.y))
      const aligned = {
        left: dxf.TextHorizontalAlignment.Left,
        middle: dxf.TextHorizontalAlignment.Center,
        right: dxf.TextHorizontalAlignment.Right,
      }
      writer.addText(at, item.heightMm, printable(item.text), {
        layerName,
        ...(item.turnDeg === 0 ? {} : { rotation: item.turnDeg }),
        ...(item.align === 'left' ? {} : { horizontalAlignment: aligned[item.align], secondAlignmentPoint: at }),
      })
    }
  }
  for (const item of items) add(item)
  return writer.stringify()
}

/** To a millionth of a millimetre, without a negative nought. */
const n = (x: number): number => Math.round(x * 1e6) / 1e6 + 0
