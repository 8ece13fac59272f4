// Fields bound to the lamp: each reads one value and writes it through the schema, so that the lamp is always valid.
import { createContext, useContext } from 'react'
import type { z } from 'zod'
import type { Lamp } from '../../lamp/schema.ts'
import type { Unit } from '../common/units.ts'
import { design, useDesign } from '../store/stores.ts'
import { beginCheckedDrag, tryEdit } from '../store/tryEdit.ts'
import { Choice } from '../ui/Choice.tsx'
import { NumberField } from '../ui/NumberField.tsx'
import { TextField } from '../ui/TextField.tsx'
import { rangeOf } from './range.ts'

/** The part that a field belongs to; the prefix of its name in the list of edits. */
export const PartName = createContext('Lamp')

const useEditLabel = (label: string) => `${useContext(PartName)}: ${label.charAt(0).toLowerCase()}${label.slice(1)}`

export interface LampNumberProps {
  label: string
  hideLabel?: boolean
  unit: Unit
  /** The schema's entry, for its limits. */
  of: z.ZodNumber
  step: number
  description?: string
  /** Where the lamp names none. */
  whenEmpty?: string
  digits?: number
  read(lamp: Lamp): number | null
  write(lamp: Lamp, value: number): Lamp
  /** The lamp without this value, where it may name none. */
  clear?(lamp: Lamp): Lamp
}

export function LampNumber({ of, read, write, clear, ...rest }: LampNumberProps) {
  const value = useDesign((s) => read(s.lamp))
  const edit = useEditLabel(rest.label)
  return (
    <NumberField
      {...rest}
      {...rangeOf(of)}
      value={value}
      onSet={(v) => tryEdit(design, edit, (lamp) => write(lamp, v))}
      {...(clear ? { onClear: () => tryEdit(design, edit, clear) } : {})}
      onBeginDrag={() => {
        const session = beginCheckedDrag(design, edit)
        return { ...session, preview: (v) => session.preview((lamp) => write(lamp, v)) }
      }}
    />
  )
}

export interface LampChoiceProps<K extends string> {
  label: string
  options: readonly { key: K; name: string }[]
  description?: string
  segments?: boolean
  /** Names that the builder gave. */
  asTyped?: boolean
  read(lamp: Lamp): K
  write(lamp: Lamp, key: K): Lamp
  /** Called with the reason when a choice is invalid, otherwise with null. */
  onFault?(why: string | null): void
}

export function LampChoice<K extends string>({ read, write, onFault, ...rest }: LampChoiceProps<K>) {
  const value = useDesign((s) => read(s.lamp))
  const edit = useEditLabel(rest.label)
  return (
    <Choice
      {...rest}
      value={value}
      onChoose={(key) => {
        const why = tryEdit(design, edit, (lamp) => write(lamp, key))
        if (onFault) onFault(why)
      }}
    />
  )
}

export interface LampTextProps {
  label: string
  description?: string
  read(lamp: Lamp): string
  write(lamp: Lamp, text: string): Lamp
}

export function LampText({ read, write, ...rest }: LampTextProps) {
  const value = useDesign((s) => read(s.lamp))
  const edit = useEditLabel(rest.label)
  return (
    <TextField {...rest} value={value} onSet={(text) => tryEdit(design, edit, (lamp) => write(lamp, text.trim()))} />
  )
}
