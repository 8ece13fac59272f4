// A line of text. Enter or leaving the field commits it; Escape restores the old text.
import { TextField as Field, Input, Label } from 'react-aria-components'
import { useTextDraft } from './useTextDraft.ts'
import './ui.css'

export interface TextFieldProps {
  label: string
  value: string
  hideLabel?: boolean
  description?: string
  maxLength?: number
  className?: string
  /** Returns why the text is invalid, or null. */
  onSet(value: string): string | null
}

export function TextField(p: TextFieldProps) {
  const { text, isDraft, why, isInvalid, type, commit, restore } = useTextDraft(p.value, p.onSet)
  return (
    <div className="ui-slot" title={p.description}>
      <Field
        className={p.className ?? 'ui-field ui-field-words'}
        value={text}
        isInvalid={isInvalid}
        {...(p.hideLabel && { 'aria-label': p.label })}
        onChange={type}
        onBlur={() => commit(true)}
        onKeyDown={(event) => {
          if (event.key === 'Enter') commit(false)
          if (event.key === 'Escape') restore()
        }}
      >
        {!p.hideLabel && <Label className="ui-label">{p.label}</Label>}
        <Input
          className="ui-input ui-text"
          autoComplete="off"
          spellCheck={false}
          maxLength={p.maxLength}
          data-draft={isDraft || undefined}
        />
        <span role="alert" className="ui-why">
          {why}
        </span>
      </Field>
    </div>
  )
}
