// Turns solids into triangles, over manifold-3d (Apache-2.0, WebAssembly): whatever is put together there is closed, each edge between two
// triangles. Own code would have to earn that guarantee first. Its objects live in WebAssembly's memory: all that are made here are freed here.
import type { CrossSection, Manifold, ManifoldToplevel } from 'manifold-3d'
import type { Mesh } from './mesh.ts'
import type { Place, Region, Ring, Solid } from './shape.ts'

export interface Kernel {
  top: ManifoldToplevel
}

/**
 * Loads the kernel. `wasm`: the bytes of manifold-3d's manifold.wasm, which the terminal reads from its disk and the page fetches from its own
 * address. The page's policy allows it: 'wasm-unsafe-eval' compiles it, and no text is run as code.
 */
export async function loadKernel(wasm: Uint8Array | ArrayBuffer): Promise<Kernel> {
  const { default: load } = await import('manifold-3d')
  const config = { wasmBinary: wasm instanceof Uint8Array ? wasm : new Uint8Array(wasm) }
  const top = await load(config as unknown as Parameters<typeof load>[0])
  top.setup()
  return { top }
}

/** Where solids are made: each solid and region once, and all of it freed when the work is done. */
export interface Room {
  /** Triangles of a solid; none where nothing is left of it. Throws where its rings enclose nothing: a fault of this program. */
  meshOf(solid: Solid): Mesh
  measure(region: Region): RegionMeasure
}

interface RegionMeasure {
  areaMm2: number
  /** Separate parts, holes not counted. */
  parts: number
}

interface Made {
  kernel: Kernel
  objects: { delete(): void }[]
  solids: Map<Solid, Manifold>
  regions: Map<Region, CrossSection>
}

export function inRoom<T>(kernel: Kernel, work: (room: Room) => T): T {
  const made: Made = { kernel, objects: [], solids: new Map(), regions: new Map() }
  try {
    return work({ meshOf: (solid) => meshIn(made, solid), measure: (region) => measureIn(made, region) })
  } finally {
    for (const object of made.objects) object.delete()
  }
}

/** Of one solid by itself. */
export const meshOf = (kernel: Kernel, solid: Solid): Mesh => inRoom(kernel, (room) => room.meshOf(solid))

function meshIn(made: Made, solid: Solid): Mesh {
  const body = manifoldOf(solid, made)
  const status = body.status()
  if (status !== 'NoError') throw new Error(`solids: the kernel refuses a ${solid.kind}: ${status}`)
  const { vertProperties, triVerts, numProp } = body.getMesh()
  if (numProp !== 3) throw new Error(`solids: ${numProp} numbers for each corner; expected 3`)
  return { position: Float32Array.from(vertProperties), index: Uint32Array.from(triVerts) }
}

function measureIn(made: Made, region: Region): RegionMeasure {
  const flat = sectionOf(region, made)
  const parts = flat.decompose()
  made.objects.push(...parts)
  return { areaMm2: flat.area(), parts: parts.filter((p) => p.area() > 1e-6).length }
}

const noted = <T extends { delete(): void }>(made: Made, object: T): T => {
  made.objects.push(object)
  return object
}

function manifoldOf(solid: Solid, made: Made): Manifold {
  const known = made.solids.get(solid)
  if (known) return known
  const body = makeManifold(solid, made)
  made.solids.set(solid, body)
  return body
}

function sectionOf(region: Region, made: Made): CrossSection {
  const known = made.regions.get(region)
  if (known) return known
  const flat = makeSection(region, made)
  made.regions.set(region, flat)
  return flat
}

function makeManifold(solid: Solid, made: Made): Manifold {
  const { Manifold: M } = made.kernel.top
  switch (solid.kind) {
    case 'prism': {
      const flat = sectionOf(solid.region, made)
      // The kernel takes no empty region.
      if (flat.isEmpty() || solid.toMm <= solid.fromMm) return noted(made, M.union([]))
      const raised = noted(made, M.extrude(flat, solid.toMm - solid.fromMm))
      return noted(made, raised.translate(0, 0, solid.fromMm))
    }
    case 'tube':
      return fromMesh(joinedRings(solid.rings, true), made)
    case 'stack': {
      const mesh = joinedRings(solid.rings, false)
      return fromMesh(withFans(mesh, solid), made)
    }
    case 'placed':
      return noted(made, manifoldOf(solid.of, made).transform(matrixOf(solid.place)))
    case 'joined':
      return noted(made, M.union(solid.of.map((s) => manifoldOf(s, made))))
    case 'shared':
      return noted(made, M.intersection(solid.of.map((s) => manifoldOf(s, made))))
    case 'cut':
      return noted(made, M.difference(solid.of.map((s) => manifoldOf(s, made))))
  }
}

function makeSection(region: Region, made: Made): CrossSection {
  const { CrossSection: C } = made.kernel.top
  switch (region.kind) {
    case 'outlines': {
      const polygons = region.outlines.map((o) => o.map(([x, y]): [number, number] => [x, y]))
      return noted(made, new C(polygons, 'EvenOdd'))
    }
    case 'grown': {
      const steps = Math.max(16, Math.ceil(12 * Math.sqrt(Math.abs(region.byMm))))
      const grown = noted(made, sectionOf(region.of, made).offset(region.byMm, 'Round', 2, 4 * Math.ceil(steps / 4)))
      // Without corners that no printer draws: curves that were grown have many.
      return noted(made, grown.simplify(FINE_MM))
    }
    case 'moved': {
      const turned = noted(made, sectionOf(region.of, made).rotate(region.turnDeg))
      return noted(made, turned.translate(region.xMm, region.yMm))
    }
    case 'joined':
      return noted(made, region.of.length === 0 ? new C([]) : C.union(region.of.map((r) => sectionOf(r, made))))
    case 'shared':
      return noted(made, C.intersection(region.of.map((r) => sectionOf(r, made))))
    case 'cut':
      return noted(made, C.difference(region.of.map((r) => sectionOf(r, made))))
  }
}

/** Corners nearer to a line than this are left out of grown regions, mm. */
const FINE_MM = 0.01

interface Corners {
  position: number[]
  index: number[]
}

/** Each ring joined to the next by two triangles for each side; `closed`: the last to the first as well. */
function joinedRings(rings: readonly Ring[], closed: boolean): Corners {
  const n = rings[0]?.length ?? 0
  const index: number[] = []
  for (const [k] of rings.entries()) {
    if (!closed && k + 1 === rings.length) break
    const [a, b] = [k * n, ((k + 1) % rings.length) * n]
    for (let i = 0; i < n; i++) {
      const j = (i + 1) % n
      index.push(a + i, a + j, b + j, a + i, b + j, b + i)
    }
  }
  return { position: rings.flat(2), index }
}

function withFans({ position, index }: Corners, { rings, below, above }: Extract<Solid, { kind: 'stack' }>): Corners {
  const n = rings[0]?.length ?? 0
  const [first, second] = [position.length / 3, position.length / 3 + 1]
  const top = (rings.length - 1) * n
  const fans = Array.from({ length: n }, (_, i) => {
    const j = (i + 1) % n
    return [first, j, i, second, top + i, top + j]
  })
  return { position: [...position, ...below, ...above], index: [...index, ...fans.flat()] }
}

function fromMesh({ position, index }: Corners, made: Made): Manifold {
  const { top } = made.kernel
  const mesh = new top.Mesh({
    numProp: 3,
    vertProperties: Float32Array.from(position),
    triVerts: Uint32Array.from(index),
  })
  return noted(made, new top.Manifold(mesh))
}

type Matrix = Parameters<Manifold['transform']>[0]

/** Four columns, one behind the other. */
const matrixOf = ({ rotation: r, shiftMm: [x, y, z] }: Place): Matrix =>
  [...[r[0], r[3], r[6], 0], ...[r[1], r[4], r[7], 0], ...[r[2], r[5], r[8], 0], ...[x, y, z, 1]] as unknown as Matrix
