// Triangles of a solid, turned by dragging or by arrow keys. Loaded when a solid is shown.
import { Canvas, useThree } from '@react-three/fiber'
import { type KeyboardEvent, type PointerEvent, useEffect, useMemo, useState } from 'react'
import { BufferAttribute, BufferGeometry } from 'three'
import type { MadePiece } from '../../solids/parts.ts'
import { type LaidOut, laidOut } from './model/layOut.ts'

interface MeshViewProps {
  pieces: readonly MadePiece[]
  /** Pieces lie on a bed, z up; otherwise they stand as in the lamp. */
  isPrinted: boolean
  title: string
}

const TURN: Record<string, readonly [number, number]> = {
  ArrowLeft: [-15, 0],
  ArrowRight: [15, 0],
  ArrowUp: [0, 15],
  ArrowDown: [0, -15],
}
const DEG = Math.PI / 180
const FOV_DEG = 30

/** So far away that a ball about everything is whole in the picture, upright or lying. */
function Eye({ radius }: { radius: number }) {
  const camera = useThree((s) => s.camera)
  const size = useThree((s) => s.size)
  const invalidate = useThree((s) => s.invalidate)
  useEffect(() => {
    const half = Math.min(1, size.width / size.height) * Math.tan((FOV_DEG / 2) * DEG)
    camera.position.set(0, 0, (1.02 * radius) / Math.sin(Math.atan(half)))
    camera.lookAt(0, 0, 0)
    camera.updateProjectionMatrix()
    invalidate()
  }, [camera, size, radius, invalidate])
  return null
}

export default function MeshView({ pieces, isPrinted, title }: MeshViewProps) {
  const all = useMemo(() => laidOut(pieces, isPrinted), [pieces, isPrinted])
  const [turn, setTurn] = useState<readonly [number, number]>(isPrinted ? [-30, 50] : [-35, 20])
  const by = (x: number, y: number) => setTurn(([a, b]) => [a + x, Math.max(-89, Math.min(89, b + y))])
  const onKeyDown = (event: KeyboardEvent) => {
    const step = TURN[event.key]
    if (!step) return
    event.preventDefault()
    by(...step)
  }
  return (
    <section
      className="workshop-turn"
      // biome-ignore lint/a11y/noNoninteractiveTabindex: it is turned by keys
      tabIndex={0}
      aria-label={`${title}, turned by dragging or by arrow keys`}
      onKeyDown={onKeyDown}
      onPointerDown={(event) => event.currentTarget.setPointerCapture(event.pointerId)}
      onPointerMove={(event: PointerEvent<HTMLElement>) => {
        if (event.currentTarget.hasPointerCapture(event.pointerId)) by(event.movementX / 2, event.movementY / 2)
      }}
    >
      <Canvas frameloop="demand" dpr={[1, 2]} camera={{ fov: FOV_DEG, near: all.radius / 50, far: all.radius * 40 }}>
        <Eye radius={all.radius} />
        <hemisphereLight args={['#dfe9ec', '#20282c', 1.8]} />
        <directionalLight position={[-600, 900, 700]} intensity={1.7} />
        <group rotation={[turn[1] * DEG, 0, 0]}>
          <group rotation={[0, turn[0] * DEG, 0]}>
            <Pieces of={all} />
          </group>
        </group>
      </Canvas>
    </section>
  )
}

function Pieces({ of }: { of: LaidOut }) {
  const geometries = useMemo(
    () =>
      of.pieces.map(({ position, index }) => {
        const geometry = new BufferGeometry()
        geometry.setAttribute('position', new BufferAttribute(position, 3))
        geometry.setIndex(new BufferAttribute(index, 1))
        return geometry
      }),
    [of],
  )
  return (
    <group position={[-of.middle[0], -of.middle[1], -of.middle[2]]}>
      {geometries.map((geometry) => (
        <mesh key={geometry.uuid} geometry={geometry}>
          <meshStandardMaterial color="#b9c4c6" roughness={0.75} metalness={0.1} flatShading />
        </mesh>
      ))}
    </group>
  )
}
