import type { JSX } from 'preact';
import { titleBound } from '../../../base/text-bounds.ts';
import type { Shop } from '../../api/shop.ts';
import { Select, TextField } from '../controls/fields.tsx';

/** What a run that is made is called. */
export function RunTitle({
  title,
  name,
  onChange,
}: {
  readonly title: string;
  /** What its file will be called. */
  readonly name: string;
  readonly onChange: (title: string) => void;
}): JSX.Element {
  return (
    <TextField
      label="What is it called?"
      hint={title === '' ? 'Like: Week 48' : `Kept as ${name}`}
      value={title}
      bound={titleBound}
      onChange={onChange}
    />
  );
}

/** The cutter on which a run that is made will be cut. */
export function RunCutter({
  shop,
  cutter,
  onChange,
}: {
  readonly shop: Shop;
  readonly cutter: string;
  readonly onChange: (cutter: string) => void;
}): JSX.Element {
  return (
    <Select
      label="Cutter"
      value={cutter}
      choices={shop.cutters.map((one) => ({ value: one.name, words: one.title }))}
      onChange={onChange}
    />
  );
}
