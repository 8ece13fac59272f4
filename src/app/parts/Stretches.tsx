// Stretches of the tunnel: sizes, ends, steps and linings. The joint between two is the end of the lower one.

import { useState } from 'react'
import { elementsOf, stretchesOf } from '../../lamp/assembly.ts'
import { LIMITS } from '../../lamp/limits.ts'
import type { Lamp, Tunnel } from '../../lamp/schema.ts'
import { tunnel } from '../../lamp/tunnel.ts'
import {
  type Along,
  hasStep,
  jointRange,
  moveEnds,
  placeJoint,
  removeStretch,
  sizeStretch,
  sizesOf,
  splitStretch,
  stepJoint,
} from '../common/stretchEdits.ts'
import type { UnitSystem } from '../common/unitSystem.ts'
import { numberText, valueText } from '../common/units.ts'
import { openPart } from '../store/openParts.ts'
import { design, useDesign } from '../store/stores.ts'
import { tryEdit } from '../store/tryEdit.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { Button } from '../ui/Button.tsx'
import { Toggle } from '../ui/Toggle.tsx'
import { ErrorText } from './ErrorText.tsx'
import { LampNumber } from './fields.tsx'
import { Lining } from './Lining.tsx'
import { Part } from './Part.tsx'

const of = tunnel.shape
const of0 = of.joints.unwrap().element.shape

const change = (lamp: Lamp, by: (tunnel: Tunnel) => Tunnel): Lamp =>
  lamp.tunnel ? { ...lamp, tunnel: by(lamp.tunnel) } : lamp
const stretchAt = (lamp: Lamp, at: number) => (lamp.tunnel ? (stretchesOf(lamp.tunnel)[at] ?? null) : null)
const isRectangular = (lamp: Lamp): boolean => lamp.tunnel?.inHeightMm !== undefined

/** All of a tunnel that has no joints. */
export function OneStretch() {
  const hasElements = useDesign(({ lamp }) => elementsOf(lamp).length > 0)
  return (
    <>
      <Size
        at={0}
        end="in"
        label="Mouth at the face"
        where="at the face"
        description="Smaller than the array and it cuts light off"
      />
      <Size
        at={0}
        end="out"
        label={hasElements ? 'Mouth at the lens' : 'Mouth in front'}
        where={hasElements ? 'at the lens' : 'in front'}
        description="A widening tunnel narrows the angles of the light it carries"
      />
      <Inlet />
      <Outlet />
      <Lining at={0} level={3} />
    </>
  )
}

function Inlet() {
  return (
    <LampNumber
      label="Begins at z"
      unit="mm"
      step={1}
      description="The gap to the face leaks light sideways"
      of={of.zInMm}
      read={(lamp) => lamp.tunnel?.zInMm ?? null}
      write={(lamp, zInMm) => change(lamp, (t) => moveEnds(t, { zInMm }))}
    />
  )
}

function Outlet() {
  return (
    <LampNumber
      label="Ends at z"
      unit="mm"
      step={1}
      description="The gap to the lens leaks light sideways"
      of={of.zOutMm}
      read={(lamp) => lamp.tunnel?.zOutMm ?? null}
      write={(lamp, zOutMm) => change(lamp, (t) => moveEnds(t, { zOutMm }))}
    />
  )
}

interface SizeProps {
  at: number
  end: 'in' | 'out'
  label: string
  /** Of a rectangle, after “Width” and “Height”. */
  where: string
  description: string
}

/** Of a rectangle two fields. */
function Size(p: SizeProps) {
  const rectangle = useDesign((s) => isRectangular(s.lamp))
  if (!rectangle) return <SizeAlong {...p} along="x" />
  return (
    <>
      <SizeAlong {...p} along="x" label={`Width ${p.where}`} />
      <SizeAlong {...p} along="y" label={`Height ${p.where}`} />
    </>
  )
}

function SizeAlong({ at, end, along, where: _, ...rest }: SizeProps & { along: Along }) {
  return (
    <LampNumber
      {...rest}
      unit="mm"
      step={1}
      of={of.inMm}
      read={(lamp) => {
        const stretch = stretchAt(lamp, at)
        return stretch && sizesOf(stretch, along)[end === 'in' ? 'inMm' : 'outMm']
      }}
      write={(lamp, v) => change(lamp, (t) => sizeStretch(t, at, end, along, v))}
    />
  )
}

/** More than this many, of a curve, are listed a part at a time. */
const SHOWN = 12

export function Stretches({ count }: { count: number }) {
  const [shown, setShown] = useState(SHOWN)
  return (
    <>
      <p className="parts-note">From the face on. A joint is moved by the end of the stretch before it.</p>
      {Array.from({ length: Math.min(count, shown) }, (_, at) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: stretches have no other name than their place
        <OneOfMany key={at} at={at} count={count} />
      ))}
      {count > shown && (
        <div className="parts-buttons">
          <Button kind="quiet" onPress={() => setShown(shown + 4 * SHOWN)}>
            {count - shown} more stretches …
          </Button>
        </div>
      )}
    </>
  )
}

function gistOf(lamp: Lamp, at: number, system: UnitSystem): string {
  const s = stretchAt(lamp, at)
  if (!s) return ''
  const mm = (v: number) => numberText(v, 'mm', system, 1)
  const ends = `z ${mm(s.zInMm)}–${mm(s.zOutMm)}`
  return isRectangular(lamp) ? ends : `${ends}: ${mm(s.inMm)} → ${mm(s.outMm)}`
}

function OneOfMany({ at, count }: { at: number; count: number }) {
  const system = useUnitSystem()
  const gist = useDesign((s) => gistOf(s.lamp, at, system))
  const isFirst = at === 0
  const isLast = at === count - 1
  return (
    <Part of={`stretch${at}`} title={`Stretch ${at + 1}`} summary={gist} level={3} edits={`Tunnel, stretch ${at + 1}`}>
      {isFirst ? (
        <>
          <Inlet />
          <Size
            at={0}
            end="in"
            label="Begins with"
            where="at the start"
            description="Smaller than the array and it cuts light off"
          />
        </>
      ) : (
        <Begin at={at} />
      )}
      {isLast ? <Outlet /> : <JointZ at={at} />}
      <Size
        at={at}
        end="out"
        label="Ends with"
        where="at the end"
        description={
          isLast
            ? 'A widening tunnel narrows the angles of the light it carries'
            : 'Without a step the next stretch begins with the same'
        }
      />
      <Lining at={at} level={4} />
      <Buttons at={at} count={count} />
    </Part>
  )
}

function JointZ({ at }: { at: number }) {
  const min = useDesign((s) => (s.lamp.tunnel && jointRange(s.lamp.tunnel, at)?.minMm) ?? 0)
  const max = useDesign((s) => (s.lamp.tunnel && jointRange(s.lamp.tunnel, at)?.maxMm) ?? Infinity)
  return (
    <LampNumber
      label="Ends at z"
      unit="mm"
      step={1}
      description="The joint to the next stretch; it stays between its neighbours"
      of={of0.zMm.min(min).max(max)}
      read={(lamp) => lamp.tunnel?.joints?.[at]?.zMm ?? null}
      write={(lamp, v) => change(lamp, (t) => placeJoint(t, at, v))}
    />
  )
}

function Begin({ at }: { at: number }) {
  const step = useDesign((s) => {
    const joint = s.lamp.tunnel?.joints?.[at - 1]
    return joint ? hasStep(joint) : false
  })
  const system = useUnitSystem()
  const note = useDesign((s) => stepWords(s.lamp, at, system))
  const [why, setWhy] = useState<string | null>(null)
  return (
    <>
      <Toggle
        label={`Step after stretch ${at}`}
        value={step}
        description="A wall square to the axis, where this stretch begins wider or narrower than the last one ends"
        onChange={(on) =>
          setWhy(
            tryEdit(design, `Tunnel, stretch ${at + 1}: ${on ? 'a step' : 'no step'}`, (lamp) =>
              change(lamp, (t) => stepJoint(t, at - 1, on)),
            ),
          )
        }
      />
      <ErrorText why={why} />
      {step && <Size at={at} end="in" label="Begins with" where="at the start" description="After the step" />}
      <p className="parts-note">{note}</p>
    </>
  )
}

/** What stands at the joint where stretch `at` begins. */
export function stepWords(lamp: Lamp, at: number, system: UnitSystem = 'metric'): string {
  const [before, s] = [stretchAt(lamp, at - 1), stretchAt(lamp, at)]
  if (!before || !s) return ''
  const mm = (v: number) => valueText(v, 'mm', system, 1)
  const where = `At z ${mm(s.zInMm)}`
  const wide = s.inMm - before.outMm
  const high = s.inHeightMm - before.outHeightMm
  if (wide === 0 && high === 0) return `${where}, ${mm(s.inMm)}, as stretch ${at} ends.`
  const sizes = isRectangular(lamp)
    ? `${mm(Math.abs(wide) / 2)} at each side, ${mm(Math.abs(high) / 2)} above and below`
    : `${mm(Math.abs(wide) / 2)} all round`
  const wider = wide > 0 || (wide === 0 && high > 0)
  return `${where} a step ${wider ? 'outwards' : 'inwards'}, ${sizes}; it is lined as stretch ${wider ? at + 1 : at}, the wider one.`
}

function Buttons({ at, count }: { at: number; count: number }) {
  const [why, setWhy] = useState<string | null>(null)
  return (
    <>
      <div className="parts-buttons">
        <Button
          kind="quiet"
          name={`Split stretch ${at + 1}`}
          hint="Halves it; both halves keep slope and lining"
          isDisabled={count > LIMITS.joints}
          onPress={() => {
            const fault = tryEdit(design, `Tunnel: split stretch ${at + 1}`, (lamp) =>
              change(lamp, (t) => splitStretch(t, at)),
            )
            setWhy(fault)
            if (fault === null) openPart(`stretch${at + 1}`, true)
          }}
        >
          Split here
        </Button>
        <Button
          kind="quiet"
          name={`Remove stretch ${at + 1}`}
          hint={at === 0 ? 'The next one runs on to the face' : 'The one before it runs on over its length'}
          onPress={() =>
            setWhy(
              tryEdit(design, `Tunnel: remove stretch ${at + 1}`, (lamp) => change(lamp, (t) => removeStretch(t, at))),
            )
          }
        >
          Remove
        </Button>
      </div>
      <ErrorText why={why} />
    </>
  )
}
