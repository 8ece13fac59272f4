import { target } from '../../lamp/parts.ts'
import type { Target } from '../../lamp/schema.ts'
import { valueText } from '../common/units.ts'
import { useDesign } from '../store/stores.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { LampNumber, LampText } from './fields.tsx'
import { Part } from './Part.tsx'

const of = target.shape
type Sized = 'distanceM' | 'widthM' | 'heightM' | 'coneHalfDeg'
const at = (key: Sized) => ({
  of: of[key],
  read: (lamp: { target: Target }) => lamp.target[key],
  write: <L extends { target: Target }>(lamp: L, v: number): L => ({ ...lamp, target: { ...lamp.target, [key]: v } }),
})

export function TargetPart() {
  const name = useDesign((s) => s.lamp.target.name)
  const distanceM = useDesign((s) => s.lamp.target.distanceM)
  const system = useUnitSystem()
  return (
    <Part
      of="target"
      title="Target"
      summary={
        <>
          <span translate="no">{name}</span>, {valueText(distanceM, 'm', system, 2)}
        </>
      }
    >
      <LampText
        label="What it is"
        read={(lamp) => lamp.target.name}
        write={(lamp, name) => ({ ...lamp, target: { ...lamp.target, name } })}
      />
      <LampNumber
        label="Distance"
        unit="m"
        step={1}
        description="Where the light on the target is read off"
        {...at('distanceM')}
      />
      <LampNumber
        label="Width"
        unit="m"
        step={0.1}
        description="Area over which mean, least light and evenness are taken"
        {...at('widthM')}
      />
      <LampNumber
        label="Height"
        unit="m"
        step={0.1}
        description="Area over which mean, least light and evenness are taken"
        {...at('heightM')}
      />
      <LampNumber
        label="Cone, half angle"
        unit="deg"
        step={0.1}
        description="Light outside this cone counts as spill outside the target"
        {...at('coneHalfDeg')}
      />
    </Part>
  )
}
