// The tunnel: its section, and its stretches from the face on. One stretch shows its fields at once.

import { useState } from 'react'
import { LIMITS } from '../../lamp/limits.ts'
import { addStretch, shapeOf, withShape } from '../common/stretchEdits.ts'
import { numberText, rangeFault, valueText } from '../common/units.ts'
import { openPart } from '../store/openParts.ts'
import { design, useDesign } from '../store/stores.ts'
import { tryEdit } from '../store/tryEdit.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { Button } from '../ui/Button.tsx'
import { Choice } from '../ui/Choice.tsx'
import { NumberField } from '../ui/NumberField.tsx'
import { newTunnel } from './defaults.ts'
import { ErrorText } from './ErrorText.tsx'
import { withTunnel } from './edits.ts'
import { Part } from './Part.tsx'
import { ReflectorCurve } from './ReflectorCurve.tsx'
import { OneStretch, Stretches } from './Stretches.tsx'

const SHAPES = [
  { key: 'none', name: 'none' },
  { key: 'round', name: 'round' },
  { key: 'polygon', name: 'polygon' },
  { key: 'rectangle', name: 'rectangle' },
] as const

export function TunnelPart() {
  const system = useUnitSystem()
  const summary = useDesign(({ lamp: { tunnel } }) => {
    if (!tunnel) return 'none'
    const stretches = (tunnel.joints?.length ?? 0) + 1
    return `${numberText(tunnel.inMm, 'mm', system, 2)} → ${valueText(tunnel.outMm, 'mm', system, 2)}${stretches > 1 ? `, ${stretches} stretches` : ''}`
  })
  return (
    <Part of="tunnel" title="Tunnel" summary={summary}>
      {ALL_FIELDS}
    </Part>
  )
}

function Fields() {
  const shape = useDesign((s) => (s.lamp.tunnel ? shapeOf(s.lamp.tunnel) : 'none'))
  const count = useDesign((s) => (s.lamp.tunnel ? (s.lamp.tunnel.joints?.length ?? 0) + 1 : 0))
  const [why, setWhy] = useState<string | null>(null)
  return (
    <>
      <div className="parts-stacked">
        <Choice
          label="Cross-section"
          segments
          description="A mirrored tube between face and lens; sizes of a polygon are across flats"
          value={shape}
          options={SHAPES}
          onChoose={(key) =>
            setWhy(
              tryEdit(design, `Tunnel: ${key}`, (lamp) =>
                key === 'none'
                  ? { ...lamp, tunnel: null }
                  : { ...lamp, tunnel: withShape(lamp.tunnel ?? newTunnel(lamp, 0), key) },
              ),
            )
          }
        />
      </div>
      <ErrorText why={why} />
      {shape === 'polygon' && <Sides />}
      {count === 1 && <OneStretch />}
      {count > 1 && <Stretches count={count} />}
      {count > 0 && <Add count={count} />}
      {count > 0 && <ReflectorCurve />}
    </>
  )
}
/** A constant element: while an edge of the tunnel is dragged, only its own fields render. */
const ALL_FIELDS = <Fields />

const SIDES = { min: 3, max: 24, integer: true }

function Sides() {
  const sides = useDesign((s) => s.lamp.tunnel?.sides ?? 6)
  return (
    <NumberField
      label="Sides"
      unit=""
      step={1}
      {...SIDES}
      value={sides}
      description="The first flat faces right (+x)"
      onSet={(v) =>
        rangeFault(v, SIDES, '') ?? tryEdit(design, 'Tunnel: sides', (lamp) => withTunnel(lamp, { sides: v }))
      }
    />
  )
}

/** A stretch more, by halving the longest; nothing moves until its fields are changed. */
function Add({ count }: { count: number }) {
  const [why, setWhy] = useState<string | null>(null)
  return (
    <>
      <div className="parts-buttons">
        <Button
          hint="Halves the longest stretch; each can have its own slope and lining, with or without a step between them"
          isDisabled={count > LIMITS.joints}
          onPress={() => {
            const fault = tryEdit(design, 'Tunnel: a stretch more', (lamp) =>
              lamp.tunnel ? { ...lamp, tunnel: addStretch(lamp.tunnel) } : lamp,
            )
            setWhy(fault)
            if (fault === null && count === 1) openPart('stretch0', true)
          }}
        >
          + Stretch
        </Button>
      </div>
      <ErrorText why={why} />
    </>
  )
}
