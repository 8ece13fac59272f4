// The thresholds in front of the lamp as surfaces of revolution: inside one the irradiance is above the threshold. For a lamp that isn't
// round, each plane uses its largest radius.
import { useEffect, useMemo } from 'react'
import { DoubleSide, LatheGeometry, type Plane, Vector2 } from 'three'
import { levelsOf, outlineOf } from '../common/dangerLevels.ts'
import { useDanger } from '../store/danger.ts'

export function KeepClear({ planes }: { planes: Plane[] }) {
  const reading = useDanger((s) => s.reading)
  const stale = useDanger((s) => s.stale)
  const shells = useMemo(() => {
    if (!reading) return []
    return levelsOf(reading.clear).flatMap((level) =>
      outlineOf(reading.volume, level.kWm2).map((line) => {
        const points = Array.from({ length: line.length / 2 }, (_, i) => new Vector2(line[2 * i + 1]!, line[2 * i]!))
        return { level, shape: new LatheGeometry(points, 48).rotateX(Math.PI / 2) }
      }),
    )
  }, [reading])
  useEffect(() => () => shells.forEach(({ shape }) => void shape.dispose()), [shells])
  return shells.map(({ level, shape }) => (
    <mesh key={shape.uuid} geometry={shape} renderOrder={7}>
      <meshBasicMaterial
        color={level.burns ? '#ff7564' : '#e6d06a'}
        transparent
        opacity={stale ? 0.06 : 0.16}
        depthWrite={false}
        side={DoubleSide}
        clippingPlanes={planes}
      />
    </mesh>
  ))
}
