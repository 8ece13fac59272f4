// Several lines of text. Leaving the field commits them; Escape restores the old ones.
import { TextArea as Area, TextField as Field, Label } from 'react-aria-components'
import { useTextDraft } from './useTextDraft.ts'
import './ui.css'
import './textArea.css'

export function TextArea(p: {
  label: string
  value: string
  maxLength: number
  rows: number
  /** Returns why the text is invalid, or null. */
  onSet(value: string): string | null
}) {
  const { text, isDraft, why, type, commit, restore } = useTextDraft(p.value, p.onSet)
  return (
    <Field
      value={text}
      isInvalid={why !== null}
      onChange={type}
      onBlur={() => commit(true)}
      onKeyDown={(event) => {
        if (event.key !== 'Escape' || !isDraft) return
        event.preventDefault()
        restore()
      }}
    >
      <Label className="ui-hidden">{p.label}</Label>
      <Area className="ui-input ui-area" rows={p.rows} maxLength={p.maxLength} data-draft={isDraft || undefined} />
      <span role="alert" className="ui-why">
        {why}
      </span>
    </Field>
  )
}
