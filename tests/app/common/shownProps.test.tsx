// What an element of the page shows where the browser's language writes commas.
import { expect, test } from 'vitest'
import { keepWordsOf, shownTexts } from '../../../src/app/common/decimalMark.ts'
import { withShownProps } from '../../../src/app/ui/shown/shownProps.ts'

const child = <b>1.5</b>
test.each([
  ['p', { children: '1.5 mm', title: '2.5°' }, { children: '1,5 mm', title: '2,5°' }],
  ['td', { children: 2.5 }, { children: '2,5' }],
  ['p', { children: ['at ', 0.5, ' and ', child] }, { children: ['at ', '0,5', ' and ', child] }],
  ['path', { d: 'M1.5 2.5', 'aria-label': '1.5' }, { d: 'M1.5 2.5', 'aria-label': '1,5' }],
  ['input', { value: '1.5', 'aria-valuetext': '1.5 mm' }, { value: '1.5', 'aria-valuetext': '1,5 mm' }],
])('%s %o', (type, props, shown) => expect(withShownProps(type, props, ',')).toEqual(shown))

test.each([
  ['code', { children: '1.5' }],
  ['span', { children: 'Lamp 1.5', translate: 'no' }],
  ['p', { children: 'Three boards', style: { top: '1.5em' } }],
])('%s %o stays the same object', (type, props) => expect(withShownProps(type, props, ',')).toBe(props))

test('the texts of a book, its colours and bytes left as they are', () => {
  const png = new Uint8Array(2)
  const book = { rows: [['1.5 m', 2]], mark: { text: '0.5', fill: 'rgb(0 0 0 / 0.5)' }, png }
  expect(shownTexts(book, ',')).toEqual({ ...book, rows: [['1,5 m', 2]], mark: { ...book.mark, text: '0,5' } })
  expect(shownTexts(book, ',').png).toBe(png)
  expect(shownTexts(book, '.')).toBe(book)
})

// Last in the file: from here on the page knows this document. Its names are invented.
test('names of the open document keep their points, in sentences and in books; its notes do not', () => {
  let lamp = { name: 'Lamp 1.5', note: 'Reaches 2.5 m', boards: [{ id: 'B1', name: 'Board 1.5 mm' }], focalMm: 1.5 }
  keepWordsOf(() => [lamp, 'Stored 1.5 m'])
  const sentence = 'Lamp 1.5: Board 1.5 mm is 1.5 mm off; Stored 1.5 m is 2.5 m off. Reaches 2.5 m'
  const shown = 'Lamp 1.5: Board 1.5 mm is 1,5 mm off; Stored 1.5 m is 2,5 m off. Reaches 2,5 m'
  expect(withShownProps('p', { title: sentence, children: ['1.5', sentence] }, ',')).toEqual({
    title: shown,
    children: ['1,5', shown],
  })
  expect(shownTexts({ rows: [[sentence]] }, ',')).toEqual({ rows: [[shown]] })
  lamp = { ...lamp, boards: [{ id: 'B1', name: 'Other 1.5 mm' }] }
  expect(shownTexts(['Board 1.5 mm', 'Other 1.5 mm'], ',')).toEqual(['Board 1,5 mm', 'Other 1.5 mm'])
  keepWordsOf(() => [])
})
