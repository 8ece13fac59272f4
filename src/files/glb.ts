// A lamp as binary glTF 2.0 (ISO/IEC 12113), for viewers and other programs: metres, +Y up, its front towards +Z. The lamp's own frame has
// y up and looks along +z, so it stands level, as it would on a wall, and no axis is turned; its origin is the middle of the face.
// Written by @gltf-transform/core (MIT), loaded when a file is asked for.
import type { Document, Material as GltfMaterial, Mesh as GltfMesh } from '@gltf-transform/core'
import type { Material } from '../solids/assembly.ts'
import type { Mesh } from '../solids/mesh.ts'
import { AT_ORIGIN, type Place } from '../solids/shape.ts'

export interface GlbPart {
  name: string
  material: Material
  /** mm. Parts that have the same object share it in the file. */
  mesh: Mesh
  place?: Place
}

interface Look {
  name: string
  /** Linear red, green, blue, and opacity. */
  colour: [number, number, number, number]
  metal: number
  rough: number
  /** Shines by itself. */
  light?: [number, number, number]
}

const LOOKS: Record<Material, Look> = {
  metal: { name: 'Aluminium', colour: [0.6, 0.62, 0.65, 1], metal: 0.3, rough: 0.5 },
  board: { name: 'Board', colour: [0.75, 0.75, 0.72, 1], metal: 0, rough: 0.6 },
  package: { name: 'Emitter', colour: [0.8, 0.75, 0.55, 1], metal: 0, rough: 0.5 },
  light: { name: 'Emitting surface', colour: [1, 0.8, 0.3, 1], metal: 0, rough: 0.5, light: [0.9, 0.65, 0.2] },
  optic: { name: 'Optic', colour: [0.75, 0.87, 0.95, 0.45], metal: 0, rough: 0.1 },
  wall: { name: 'Tunnel sheet', colour: [0.7, 0.72, 0.74, 0.35], metal: 0.2, rough: 0.35 },
  clear: { name: 'Lens or cover', colour: [0.7, 0.88, 0.95, 0.3], metal: 0, rough: 0.05 },
  film: { name: 'Film', colour: [0.95, 0.9, 0.8, 0.5], metal: 0, rough: 0.9 },
  printed: { name: 'Printed', colour: [0.12, 0.13, 0.15, 1], metal: 0, rough: 0.7 },
}

const M = 0.001

/** The file's bytes. `title`: name of the scene's root; `note` goes into it as well. */
export async function writeGlb(parts: readonly GlbPart[], title: string, note: string): Promise<Uint8Array> {
  const { Document, WebIO } = await import('@gltf-transform/core')
  const document = new Document()
  document.getRoot().getAsset().generator = 'Lampwright'
  document.createBuffer()
  const scene = document.createScene(title)
  document.getRoot().setDefaultScene(scene)
  const root = document.createNode(title).setExtras({ note })
  scene.addChild(root)
  const materialOf = makeMaterials(document)
  const meshes = new Map<Mesh, Map<Material, GltfMesh>>()
  for (const { name, material, mesh, place = AT_ORIGIN } of parts) {
    const kinds = meshes.get(mesh) ?? new Map<Material, GltfMesh>()
    meshes.set(mesh, kinds)
    const shared = kinds.get(material) ?? putMesh(document, mesh, name, materialOf(material))
    kinds.set(material, shared)
    const node = document.createNode(name).setMesh(shared)
    const [x, y, z] = place.shiftMm
    if (place !== AT_ORIGIN) node.setTranslation([M * x, M * y, M * z]).setRotation(quaternion(place))
    root.addChild(node)
  }
  return new WebIO().writeBinary(document)
}

function makeMaterials(document: Document): (kind: Material) => GltfMaterial {
  const known = new Map<Material, GltfMaterial>()
  return (kind) => {
    const found = known.get(kind)
    if (found) return found
    const { name, colour, metal, rough, light } = LOOKS[kind]
    const made = document
      .createMaterial(name)
      .setBaseColorFactor(colour)
      .setMetallicFactor(metal)
      .setRoughnessFactor(rough)
    if (light) made.setEmissiveFactor(light)
    if (colour[3] < 1) made.setAlphaMode('BLEND').setDoubleSided(true)
    known.set(kind, made)
    return made
  }
}

/** Without normals: glTF then asks for flat faces, which is what edges of sheet and board look like. */
function putMesh(document: Document, mesh: Mesh, name: string, material: GltfMaterial): GltfMesh {
  const [buffer] = document.getRoot().listBuffers()
  const accessor = () => document.createAccessor().setBuffer(buffer ?? null)
  const position = accessor()
    .setType('VEC3')
    .setArray(mesh.position.map((at) => M * at))
  const small = mesh.position.length / 3 <= 65_535
  const index = accessor()
    .setType('SCALAR')
    .setArray(small ? Uint16Array.from(mesh.index) : mesh.index)
  const primitive = document
    .createPrimitive()
    .setAttribute('POSITION', position)
    .setIndices(index)
    .setMaterial(material)
  return document.createMesh(name).addPrimitive(primitive)
}

/** x, y, z, w of a rotation: Shepperd's method (memory: J. Guidance and Control 1, 1978, p. 223), by the greatest of the four squares. */
function quaternion({ rotation: [a, b, c, d, e, f, g, h, i] }: Place): [number, number, number, number] {
  const trace = a + e + i
  const most = Math.max(trace, a, e, i)
  const q: [number, number, number, number] =
    most === trace
      ? [h - f, c - g, d - b, 1 + trace]
      : most === a
        ? [1 + a - e - i, b + d, c + g, h - f]
        : most === e
          ? [b + d, 1 + e - a - i, f + h, c - g]
          : [c + g, f + h, 1 + i - a - e, d - b]
  const long = Math.hypot(...q)
  return q.map((v) => v / long) as [number, number, number, number]
}
