// Fields bound to the lamp's power settings, its own or typical ones.
import { useMemo, useState } from 'react'
import type { z } from 'zod'
import type { Lamp, Power } from '../../lamp/schema.ts'
import { powerOf } from '../../library/typicalPower.ts'
import type { Unit } from '../common/units.ts'
import { design, useDesign } from '../store/stores.ts'
import { tryEdit } from '../store/tryEdit.ts'
import { ErrorText } from './ErrorText.tsx'
import { LampChoice, LampNumber, LampText } from './fields.tsx'
import { type ListName, withCopy, withoutItem, withPower } from './powerEdits.ts'
import { TypeListHead } from './TypeRow.tsx'

export interface PowerField {
  label: string
  unit: Unit
  step: number
  of: z.ZodNumber
  description?: string
  /** Where the lamp names none. */
  whenEmpty?: string
  get(power: Power): number | null
  set(power: Power, value: number): Power
  /** The settings without this value, where they may name none. */
  clear?(power: Power): Power
}

export const PowerNumber = ({ get, set, clear, ...rest }: PowerField) => (
  <LampNumber
    {...rest}
    {...(clear ? { clear: (lamp: Lamp) => withPower(lamp, clear) } : {})}
    read={(lamp) => get(powerOf(lamp).value)}
    write={(lamp, v) => withPower(lamp, (p) => set(p, v))}
  />
)

export function PowerChoice<K extends string>(p: {
  label: string
  segments?: boolean
  description?: string
  options: readonly { key: K; name: string }[]
  asTyped?: boolean
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
      <ErrorText why={why} />
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

export function usePowerValue(): Power {
  const lamp = useDesign((s) => s.lamp)
  return useMemo(() => powerOf(lamp).value, [lamp])
}

/** Head of one of the lists of the power settings. */
export function ListHead(p: { list: ListName; what: string; id: string; choose(id: string): void }) {
  const rows: readonly { id: string; name: string }[] = usePowerValue()[p.list]
  return (
    <TypeListHead
      {...p}
      rows={rows}
      another={() => {
        const next = withCopy(powerOf(design.lamp()).value, p.list, p.id)
        return { id: next.id, why: tryEdit(design, `Another ${p.what}`, (lamp) => ({ ...lamp, power: next.power })) }
      }}
      remove={() => tryEdit(design, `Delete ${p.what}`, (lamp) => withPower(lamp, (w) => withoutItem(w, p.list, p.id)))}
      keptReason={rows.length < 2 ? 'The last one' : undefined}
    />
  )
}
