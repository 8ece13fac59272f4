// The parts as meshes: boards and emitters are instanced, walls and lens are transparent.
import { useEffect, useLayoutEffect, useMemo, useRef } from 'react'
import {
  BufferAttribute,
  BufferGeometry,
  CylinderGeometry,
  DoubleSide,
  ExtrudeGeometry,
  type InstancedMesh,
  Matrix4,
  type Plane,
  Shape,
  Vector2,
} from 'three'
import { boardRotation, type EmitterPlace, placeEmitters, spaceFromBoard } from '../../lamp/place.ts'
import type { BoardType, Face, Lamp, Tunnel } from '../../lamp/schema.ts'
import { outlinePath } from '../../layout/outline.ts'
import type { Rotation, Vector } from '../../num/rotation.ts'
import { PLATE_MM } from '../common/extent.ts'
import type { Piece } from '../common/piece.ts'
import { ringPoints, tunnelEdges, tunnelMesh } from './model/mesh.ts'
import { pieceMesh } from './model/pieceMesh.ts'

interface Cut {
  planes: Plane[]
}

const shapeOf = (points: readonly (readonly [number, number])[]) => new Shape(points.map(([x, y]) => new Vector2(x, y)))

/** Geometries made here are freed here. */
function useGeometry<G extends BufferGeometry>(make: () => G, on: readonly unknown[]): G {
  // biome-ignore lint/correctness/useExhaustiveDependencies: the caller says what the shape depends on
  const geometry = useMemo(make, on)
  useEffect(() => () => geometry.dispose(), [geometry])
  return geometry
}

export function FacePlate({ face, planes }: { face: Face } & Cut) {
  const geometry = useGeometry(() => {
    const sides = face.shape === 'round' ? 0 : face.shape === 'square' ? 4 : 6
    const made = new ExtrudeGeometry(shapeOf(ringPoints(sides, face.sizeMm)), { depth: PLATE_MM, bevelEnabled: false })
    return made.translate(0, 0, -PLATE_MM)
  }, [face.shape, face.sizeMm])
  return (
    <mesh geometry={geometry}>
      <meshLambertMaterial color="#7d8b90" side={DoubleSide} clippingPlanes={planes} />
    </mesh>
  )
}

export function Boards({ lamp, planes }: { lamp: Lamp } & Cut) {
  return lamp.boardTypes.map((type) => <BoardsOf key={type.id} lamp={lamp} type={type} planes={planes} />)
}

const BOARD_MM = 1.6

function placed(m: Matrix4, turn: Rotation, [x, y, z]: Vector): Matrix4 {
  const [a, b, c, d, e, f, g, h, i] = turn
  return m.set(a, b, c, x, d, e, f, y, g, h, i, z, 0, 0, 0, 1)
}

function BoardsOf({ lamp, type, planes }: { lamp: Lamp; type: BoardType } & Cut) {
  const boards = useMemo(() => lamp.boards.filter((b) => b.type === type.id), [lamp.boards, type.id])
  const geometry = useGeometry(
    () => new ExtrudeGeometry(shapeOf(outlinePath(type.outline, 10)), { depth: BOARD_MM, bevelEnabled: false }),
    [type.outline],
  )
  const ref = useRef<InstancedMesh>(null)
  useLayoutEffect(() => {
    const mesh = ref.current
    if (!mesh) return
    const m = new Matrix4()
    for (const [i, b] of boards.entries())
      mesh.setMatrixAt(i, placed(m, boardRotation(b), spaceFromBoard(b, [0, 0, 0.1])))
    mesh.instanceMatrix.needsUpdate = true
    mesh.computeBoundingSphere()
  }, [boards])
  if (boards.length === 0) return null
  return (
    <instancedMesh key={boards.length} ref={ref} args={[geometry, undefined, boards.length]}>
      <meshLambertMaterial color="#5d7d6d" side={DoubleSide} clippingPlanes={planes} />
    </instancedMesh>
  )
}

export function Emitters({ lamp, planes }: { lamp: Lamp } & Cut) {
  const groups = useMemo(() => {
    const by = new Map<string, EmitterPlace[]>()
    for (const place of placeEmitters(lamp)) {
      const key = `${place.emitter.id}/${place.optic.id}`
      by.set(key, [...(by.get(key) ?? []), place])
    }
    return [...by]
  }, [lamp])
  return groups.map(([key, places]) => <EmittersOf key={`${key}/${places.length}`} places={places} planes={planes} />)
}

function EmittersOf({ places, planes }: { places: EmitterPlace[] } & Cut) {
  const { emitter, optic } = places[0]!
  const geometry = useGeometry(() => {
    const exit = optic.kind === 'bare' ? emitter.bodyMm : optic.exitDiameterMm
    const top =
      optic.kind === 'collimator'
        ? optic.heightMm
        : Math.max(1, emitter.heightMm + (optic.kind === 'bare' ? 0 : exit / 3))
    const tall = Math.max(0.5, top - BOARD_MM)
    const base = optic.kind === 'bare' ? exit : Math.min(exit, emitter.bodyMm)
    return new CylinderGeometry(exit / 2, base / 2, tall, 20).rotateX(Math.PI / 2).translate(0, 0, BOARD_MM + tall / 2)
  }, [emitter, optic])
  const ref = useRef<InstancedMesh>(null)
  useLayoutEffect(() => {
    const mesh = ref.current
    if (!mesh) return
    const m = new Matrix4()
    for (const [i, p] of places.entries()) mesh.setMatrixAt(i, placed(m, p.rotation, [p.xMm, p.yMm, p.baseZMm]))
    mesh.instanceMatrix.needsUpdate = true
    mesh.computeBoundingSphere()
  }, [places])
  return (
    <instancedMesh ref={ref} args={[geometry, undefined, places.length]}>
      <meshLambertMaterial color="#8fb6c4" emissive="#ffb65c" emissiveIntensity={0.12} clippingPlanes={planes} />
    </instancedMesh>
  )
}

export function TunnelWall({ tunnel, planes }: { tunnel: Tunnel } & Cut) {
  const wall = useGeometry(() => {
    const { position, index } = tunnelMesh(tunnel)
    const made = new BufferGeometry()
    made.setAttribute('position', new BufferAttribute(position, 3))
    made.setIndex(new BufferAttribute(index, 1))
    made.computeVertexNormals()
    return made
  }, [tunnel])
  const edges = useGeometry(
    () => new BufferGeometry().setAttribute('position', new BufferAttribute(tunnelEdges(tunnel), 3)) as BufferGeometry,
    [tunnel],
  )
  return (
    <>
      <mesh geometry={wall} renderOrder={2}>
        <meshLambertMaterial
          color="#a9bcc2"
          transparent
          opacity={0.16}
          side={DoubleSide}
          depthWrite={false}
          clippingPlanes={planes}
        />
      </mesh>
      <lineSegments geometry={edges}>
        <lineBasicMaterial color="#9fb0af" transparent opacity={0.75} clippingPlanes={planes} />
      </lineSegments>
    </>
  )
}

/** Covers clear, films in the colour of light, lenses in steel. */
const TINT: Record<Piece['kind'], { colour: string; opacity: number }> = {
  fresnel: { colour: '#7fb4c9', opacity: 0.2 },
  solid: { colour: '#7fb4c9', opacity: 0.2 },
  ideal: { colour: '#7fb4c9', opacity: 0.2 },
  cover: { colour: '#c6d4d8', opacity: 0.1 },
  diffuser: { colour: '#e9d8b4', opacity: 0.22 },
}

/** A lens, a cover or a film, where it stands. */
export function PieceBody({ piece, planes }: { piece: Piece } & Cut) {
  const mesh = useMemo(() => pieceMesh(piece), [piece])
  const body = useGeometry(() => {
    const made = new BufferGeometry()
    made.setAttribute('position', new BufferAttribute(mesh.position, 3))
    made.setIndex(new BufferAttribute(mesh.index, 1))
    made.computeVertexNormals()
    return made
  }, [mesh])
  const lines = useGeometry(
    () => new BufferGeometry().setAttribute('position', new BufferAttribute(mesh.lines, 3)) as BufferGeometry,
    [mesh],
  )
  const { colour, opacity } = TINT[piece.kind]
  return (
    <>
      <mesh geometry={body} renderOrder={3}>
        <meshLambertMaterial
          color={colour}
          transparent
          opacity={opacity}
          side={DoubleSide}
          depthWrite={false}
          clippingPlanes={planes}
        />
      </mesh>
      <lineSegments geometry={lines} renderOrder={4}>
        <lineBasicMaterial color={colour} transparent opacity={0.28} depthWrite={false} clippingPlanes={planes} />
      </lineSegments>
    </>
  )
}
