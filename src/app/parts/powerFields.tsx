// Fields bound to the lamp's power, typed or typical.
import { useMemo, useState } from 'react'
import type { z } from 'zod'
import type { Power } from '../../lamp/schema.ts'
import { powerOf } from '../../library/typicalPower.ts'
import type { Unit } from '../measure/units.ts'
import { design, useDesign } from '../store/stores.ts'
import { tryEdit } from '../store/tryEdit.ts'
import { Choice } from '../ui/Choice.tsx'
import { Push } from '../ui/Push.tsx'
import { LampChoice, LampNumber, LampText } from './fields.tsx'
import { type ListName, withCopy, withoutItem, withPower } from './powerEdits.ts'
import { Refusal } from './Refusal.tsx'

export interface PowerField {
  label: string
  unit: Unit
  step: number
  of: z.ZodNumber
  does?: string
  get(power: Power): number | null
  set(power: Power, value: number): Power
}

export const PowerNumber = ({ get, set, ...rest }: PowerField) => (
  <LampNumber
    {...rest}
    read={(lamp) => get(powerOf(lamp).value)}
    write={(lamp, v) => withPower(lamp, (p) => set(p, v))}
  />
)

export function PowerChoice<K extends string>(p: {
  label: string
  segments?: boolean
  does?: string
  options: readonly { key: K; name: string }[]
  get(power: Power): K
  set(power: Power, key: K): Power
}) {
  const { get, set, ...rest } = p
  const [why, setWhy] = useState<string | null>(null)
  return (
    <>
      <LampChoice
        {...rest}
        read={(lamp) => get(powerOf(lamp).value)}
        write={(lamp, key) => withPower(lamp, (power) => set(power, key))}
        onFault={setWhy}
      />
      <Refusal why={why} />
    </>
  )
}

export const PowerText = (p: { label: string; get(power: Power): string; set(power: Power, text: string): Power }) => (
  <LampText
    label={p.label}
    read={(lamp) => p.get(powerOf(lamp).value)}
    write={(lamp, text) => withPower(lamp, (power) => p.set(power, text))}
  />
)

export function usePowerOf(): Power {
  const lamp = useDesign((s) => s.lamp)
  return useMemo(() => powerOf(lamp).value, [lamp])
}

/** Head of a list: which row is shown, another one like it, away with it. */
export function ListHead(p: { list: ListName; what: string; id: string; choose(id: string): void }) {
  const rows: readonly { id: string; name: string }[] = usePowerOf()[p.list]
  const [why, setWhy] = useState<string | null>(null)
  return (
    <div className="parts-type">
      {rows.length > 1 && (
        <Choice
          label={`Shown ${p.what}`}
          value={p.id}
          options={rows.map((r) => ({ key: r.id, name: r.name }))}
          onChoose={p.choose}
        />
      )}
      <div className="parts-buttons">
        <Push
          kind="quiet"
          name={`Another ${p.what} like this`}
          onPush={() => {
            const next = withCopy(powerOf(design.lamp()).value, p.list, p.id)
            const fault = tryEdit(design, `Another ${p.what}`, (lamp) => ({ ...lamp, power: next.power }))
            setWhy(fault)
            if (fault === null) p.choose(next.id)
          }}
        >
          + Another
        </Push>
        <Push
          kind="quiet"
          name={`Delete this ${p.what}`}
          isDisabled={rows.length < 2}
          hint={rows.length < 2 ? 'The last one' : undefined}
          onPush={() =>
            setWhy(tryEdit(design, `Delete ${p.what}`, (lamp) => withPower(lamp, (w) => withoutItem(w, p.list, p.id))))
          }
        >
          Delete
        </Push>
      </div>
      <Refusal why={why} />
    </div>
  )
}
