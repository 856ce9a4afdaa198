/** What the keys do, for those who hear the page. */
export function RollHelp({ id, movable }: { readonly id: string; readonly movable: boolean }) {
  return (
    <p id={id} class="roll-unseen">
      N and P walk from part to part along the roll. Enter selects a part, Shift and Enter one more.
      Plus, Minus and 0 zoom; without a part, arrow keys move the picture.{' '}
      {movable &&
        'With a part, arrow keys move it by 10 millimetres, with Shift by 1, with Alt by 100; R turns it to where it may lie next, Shift and R by 90 degrees. Then Enter lays it down, and Escape puts it back.'}
    </p>
  );
}
