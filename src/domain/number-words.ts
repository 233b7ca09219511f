/** Small numbers as words, from one; `NUMBER_WORDS[0]` is `one`. */
export const NUMBER_WORDS: readonly string[] = [
  'one',
  'two',
  'three',
  'four',
  'five',
  'six',
  'seven',
  'eight',
  'nine',
  'ten',
  'eleven',
  'twelve',
]
