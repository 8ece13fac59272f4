import { reading } from '../../lamp/parts.ts'
import type { Reading } from '../../lamp/schema.ts'
import type { Unit } from '../common/units.ts'
import { LampNumber } from './fields.tsx'
import { Part } from './Part.tsx'

const FIELDS: readonly { key: keyof Reading; label: string; unit: Unit; step: number; description: string }[] = [
  {
    key: 'axialConeHalfDeg',
    label: 'Axial cone, half',
    unit: 'deg',
    step: 0.05,
    description: 'Axial intensity is the mean inside this cone',
  },
  {
    key: 'hotDiscMm',
    label: 'Hot spot disc',
    unit: 'mm',
    step: 1,
    description: 'A hot spot is the mean over a disc so wide; smaller finds hotter spots',
  },
  {
    key: 'sunWm2',
    label: 'Sunshine',
    unit: 'W/m²',
    step: 10,
    description: 'Direct normal irradiance of the sun that falls into the lens',
  },
  {
    key: 'sunTiltDeg',
    label: 'Sun off the axis',
    unit: 'deg',
    step: 0.5,
    description: 'Angle between the sun and the lamp’s axis',
  },
  { key: 'ambientC', label: 'Air around the lamp', unit: '°C', step: 1, description: 'Where warming starts from' },
]

export function ReadingPart() {
  return (
    <Part of="reading" title="How it is read" summary="cones, discs, sun, air" edits="Reading">
      {FIELDS.map(({ key, ...f }) => (
        <LampNumber
          key={key}
          {...f}
          of={reading.shape[key]}
          read={(lamp) => lamp.reading[key]}
          write={(lamp, v) => ({ ...lamp, reading: { ...lamp.reading, [key]: v } })}
        />
      ))}
    </Part>
  )
}
