// Where the lamp's optics look: along their boards' normals, or all at one point.
import { aimAt } from '../../lamp/parts.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { useDesign } from '../store/stores.ts'
import { LampChoice, LampNumber } from './fields.tsx'

const of = aimAt.shape

const FIELDS = [
  { key: 'distanceM', label: 'Point, distance', unit: 'm', step: 1, description: 'From the face' },
  { key: 'xMm', label: 'Point, x', unit: 'mm', step: 10, description: 'Beside the axis, to the right' },
  { key: 'yMm', label: 'Point, y', unit: 'mm', step: 10, description: 'Beside the axis, upwards' },
] as const

export function AimAt() {
  const isAimed = useDesign((s) => s.lamp.aimAt !== undefined)
  return (
    <>
      <LampChoice
        label="Optics look"
        segments
        description="Every optic without an aim of its own; a bare emitter has nothing to turn"
        options={[
          { key: 'straight', name: 'straight' },
          { key: 'point', name: 'all at a point' },
        ]}
        read={(lamp) => (lamp.aimAt ? 'point' : 'straight')}
        write={withAimAt}
      />
      {isAimed &&
        FIELDS.map(({ key, ...field }) => (
          <LampNumber
            key={key}
            {...field}
            of={of[key]}
            read={(lamp) => lamp.aimAt?.[key] ?? null}
            write={(lamp, v) => (lamp.aimAt ? { ...lamp, aimAt: { ...lamp.aimAt, [key]: v } } : lamp)}
          />
        ))}
    </>
  )
}

function withAimAt(lamp: Lamp, key: 'straight' | 'point'): Lamp {
  const { aimAt: old, ...rest } = lamp
  if (key === 'straight') return rest
  return { ...rest, aimAt: old ?? { xMm: 0, yMm: 0, distanceM: lamp.target.distanceM } }
}
