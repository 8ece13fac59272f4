// GLB against the Khronos validator of glTF 2.0 (ISO/IEC 12113:2022), and read by three's loader, an implementation of its own.
import { validateBytes } from 'gltf-validator'
import { Box3, type Object3D, Vector3 } from 'three'
import { GLTFLoader } from 'three/examples/jsm/loaders/GLTFLoader.js'
import { describe, expect, test } from 'vitest'
import { writeGlb } from '../../src/files/glb.ts'
import { assemblyGlb, partGlb } from '../../src/files/solidFiles.ts'
import { foremostZMm } from '../../src/lamp/body.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { DEMO_NAMES } from '../../src/library/demoNames.ts'
import { DEMOS, gannetHead } from '../../src/library/demos.ts'
import { slipLight } from '../../src/library/demosAssembled.ts'
import { turnAbout, turnVector } from '../../src/num/rotation.ts'
import { meshOf } from '../../src/solids/kernel.ts'
import { outlines, prism, rectangle } from '../../src/solids/shape.ts'
import { assembledLamp } from '../kit/assembledLamp.ts'
import { dice } from '../kit/randomLamp.ts'
import { solidKernel } from '../kit/solidKernel.ts'
import { tilted } from '../kit/tiltedLamp.ts'

async function read(bytes: Uint8Array): Promise<Object3D> {
  const buffer = bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength) as ArrayBuffer
  const { scene } = await new GLTFLoader().parseAsync(buffer, '')
  scene.updateMatrixWorld(true)
  return scene
}

const glbOf = async (lamp: Lamp): Promise<Uint8Array> => {
  const made = await assemblyGlb(await solidKernel(), lamp)
  if (!made.ok) throw new Error(made.why)
  return made.bytes
}

/** Size of what a name stands for, m. three puts underscores in place of spaces and drops full stops. */
function boxOf(scene: Object3D, name: string): Box3 {
  const found = scene.getObjectByName(name.replace(/\s/g, '_').replace(/[[\]./:]/g, ''))
  if (!found) throw new Error(`nothing called ${name}`)
  return new Box3().setFromObject(found)
}
const sizeOf = (box: Box3): number[] => box.getSize(new Vector3()).toArray()

const near = (a: readonly number[], b: readonly number[], within = 2e-5) => {
  for (const [k, v] of a.entries()) expect(Math.abs(v - (b[k] ?? Number.NaN)), `${a} against ${b}`).toBeLessThan(within)
}

describe('the validator finds nothing in', () => {
  test.each(DEMO_NAMES)('%s', async (name) => {
    const { issues, info } = await validateBytes(await glbOf(DEMOS[name]()))
    expect(issues).toMatchObject({ numErrors: 0, numWarnings: 0 })
    expect(info.version).toBe('2.0')
    expect(info.totalTriangleCount).toBeGreaterThan(100)
  })
  test('a lamp with tilted, decentred elements, one on wedges, and printed pieces', async () => {
    for (const lamp of [assembledLamp(2), assembledLamp(5), tilted(gannetHead(), 3, 20)])
      expect((await validateBytes(await glbOf(lamp))).issues).toMatchObject({ numErrors: 0, numWarnings: 0 })
    const printed = await partGlb(await solidKernel(), slipLight(), 'print-lens-ring')
    expect(printed.ok && (await validateBytes(printed.bytes)).issues).toMatchObject({ numErrors: 0, numWarnings: 0 })
  })
  test('but it does find what is wrong: an index beyond the corners', async () => {
    const mesh = { position: Float32Array.of(0, 0, 0, 1, 0, 0, 0, 1, 0), index: Uint32Array.of(0, 1, 7) }
    const { issues } = await validateBytes(await writeGlb([{ name: 'x', material: 'metal', mesh }], 'x', ''))
    expect(issues.numErrors).toBeGreaterThan(0)
  })
})

describe('another reader finds', () => {
  test('parts by name, in metres, the beam along +Z', async () => {
    const scene = await read(await glbOf(gannetHead()))
    near(sizeOf(boxOf(scene, 'Face plate')), [0.2, 0.2, 0.012])
    expect(boxOf(scene, 'Face plate').max.z).toBeCloseTo(0, 6)
    near(sizeOf(boxOf(scene, 'Board B1')), [0.035, 0.035, 0.0016], 5e-5)
    const lens = boxOf(scene, 'Lens')
    near([lens.min.z, lens.max.z], [1.05, 1.053])
    near(sizeOf(lens).slice(0, 2), [0.56, 0.56])
    near(sizeOf(boxOf(scene, 'Optic B3.7')), [0.01, 0.01, sizeOf(boxOf(scene, 'Optic B1.1'))[2] ?? 0], 1e-4)
    near([boxOf(scene, 'Optic B3.7').max.z], [0.012])
    const B2 = boxOf(scene, 'Board B2').getCenter(new Vector3())
    near([B2.x, B2.y], [gannetHead().boards[1]!.xMm / 1000, gannetHead().boards[1]!.yMm / 1000])
    near(sizeOf(boxOf(scene, 'Tunnel')).slice(2), [1.026])
  })
  test('y up, x wide: a flat, wide lamp is wider than tall', async () => {
    const scene = await read(await glbOf(slipLight()))
    near(sizeOf(boxOf(scene, 'Clear pane')), [0.31, 0.12, 0.004])
    near(sizeOf(boxOf(scene, 'Board B1')).slice(0, 2), [0.064, 0.022])
  })
  test('tilted elements and boards where the document’s frames put them', async () => {
    for (const seed of [1, 2, 5]) {
      const lamp = assembledLamp(seed)
      const scene = await read(await glbOf(lamp))
      // Bodies of Fresnel lenses end at the valleys, so their grooves' layer may stand out of the model.
      const front = foremostZMm(lamp)
      if (front === null) continue
      const all = new Box3().setFromObject(scene)
      expect(all.max.z).toBeGreaterThan(front / 1000 - 0.02)
    }
  })
  test('a part turned and moved: each corner where the rotation takes it', async () => {
    const mesh = meshOf(await solidKernel(), prism(outlines(rectangle(30, 20)), 0, 5))
    const d = dice(7)
    for (let i = 0; i < 20; i++) {
      const axis = [d.between(-1, 1), d.between(-1, 1), d.between(-1, 1)] as const
      const long = Math.hypot(...axis)
      const about = [axis[0] / long, axis[1] / long, axis[2] / long] as const
      // Half a turn as well, where a quaternion's w is nothing.
      const rotation = turnAbout(about, i < 4 ? Math.PI : d.between(-Math.PI, Math.PI))
      const place = { rotation, shiftMm: [d.between(-50, 50), 3, -8] as const }
      const scene = await read(await writeGlb([{ name: 'block', material: 'metal', mesh, place }], 'one', ''))
      const corners = [-15, 15].flatMap((x) =>
        [-10, 10].flatMap((y) => [0, 5].map((z) => turnVector(rotation, [x, y, z]))),
      )
      const box = boxOf(scene, 'block')
      for (const [k, key] of (['x', 'y', 'z'] as const).entries()) {
        const values = corners.map((c) => ((c[k] ?? 0) + (place.shiftMm[k] ?? 0)) / 1000)
        near([box.min[key], box.max[key]], [Math.min(...values), Math.max(...values)], 1e-6)
      }
    }
  })
  test('each board and emitter has its name, once', async () => {
    const lamp = slipLight()
    const scene = await read(await glbOf(lamp))
    const names: string[] = []
    scene.traverse((o) => names.push(o.name))
    for (const { id } of lamp.boards) expect(names).toContain(`Board_${id}`)
    expect(names.filter((n) => n.startsWith('Optic_'))).toHaveLength(18)
    expect(new Set(names).size).toBe(names.length)
  })
})
