/** Where the front of the vehicle is in a drawing. */
export const fronts = [
  { value: 'up', words: 'at the top' },
  { value: 'right', words: 'at the right' },
  { value: 'down', words: 'at the bottom' },
  { value: 'left', words: 'at the left' },
] as const;
