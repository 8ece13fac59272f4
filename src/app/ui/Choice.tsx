// A choice of one option: segments for up to four short names, otherwise a list box.

import {
  Button,
  Label,
  ListBox,
  ListBoxItem,
  Popover,
  Select,
  SelectValue,
  ToggleButton,
  ToggleButtonGroup,
} from 'react-aria-components'
import { defined } from './defined.ts'
import './ui.css'

export interface ChoiceProps<K extends string> {
  label: string
  value: K
  options: readonly { key: K; name: string }[]
  description?: string
  /** Segments side by side instead of a list. */
  segments?: boolean
  isDisabled?: boolean
  /** Names that the builder gave: their digits are shown as typed. */
  asTyped?: boolean | undefined
  onChoose(key: K): void
}

export function Choice<K extends string>(p: ChoiceProps<K>) {
  return p.segments ? <Segments {...p} /> : <List {...p} />
}

function Segments<K extends string>(p: ChoiceProps<K>) {
  return (
    <div className="ui-field" title={p.description}>
      <span className="ui-label" aria-hidden="true">
        {p.label}
      </span>
      <ToggleButtonGroup
        className="ui-segments"
        aria-label={p.label}
        selectionMode="single"
        disallowEmptySelection
        {...defined({ isDisabled: p.isDisabled })}
        selectedKeys={[p.value]}
        onSelectionChange={(keys) => {
          const key = [...keys][0]
          if (key !== undefined && key !== p.value) p.onChoose(key as K)
        }}
      >
        {p.options.map((o) => (
          <ToggleButton key={o.key} id={o.key} className="ui-segment" translate={p.asTyped ? 'no' : undefined}>
            {o.name}
          </ToggleButton>
        ))}
      </ToggleButtonGroup>
    </div>
  )
}

function List<K extends string>(p: ChoiceProps<K>) {
  return (
    <div className="ui-slot" title={p.description}>
      <Select
        className="ui-field ui-field-words"
        value={p.value}
        {...defined({ isDisabled: p.isDisabled })}
        onChange={(key) => {
          if (key !== null && key !== p.value) p.onChoose(key as K)
        }}
      >
        <Label className="ui-label">{p.label}</Label>
        <Button className="ui-button ui-select">
          <SelectValue />
          <span aria-hidden="true">▾</span>
        </Button>
        <Popover className="ui-popover ui-options">
          <ListBox>
            {p.options.map((o) => (
              <ListBoxItem
                key={o.key}
                id={o.key}
                className="ui-option"
                textValue={o.name}
                translate={p.asTyped ? 'no' : undefined}
              >
                {o.name}
              </ListBoxItem>
            ))}
          </ListBox>
        </Popover>
      </Select>
    </div>
  )
}
