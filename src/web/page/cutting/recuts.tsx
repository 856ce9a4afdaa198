import type { JSX } from 'preact';
import type { RunFolder } from '../../api/files.ts';
import type { RunCard, Shop } from '../../api/shop.ts';
import { addressOf } from '../address.ts';
import { counted } from '../words.ts';

/** The recuts of a run, each with how far it is cut. Nothing where there are none. */
export function Recuts({
  folder,
  shop,
}: {
  folder: RunFolder;
  shop: Shop | null;
}): JSX.Element | null {
  const own = (shop?.runs ?? []).filter((run) => run.folder?.recutOf === folder.name);
  if (own.length === 0) return null;
  return (
    <ul class="recuts" role="list" aria-label="Parts that are cut again">
      {own.map((run) => (
        <li>
          <a class="button" href={addressOf('out', run.name)}>
            {run.name}: {counted(run.folder!.parts, 'part')} cut again, {stateOfRecut(run)}
          </a>
        </li>
      ))}
    </ul>
  );
}

function stateOfRecut({ cutting: { state, bites, of } }: RunCard): string {
  if (state === 'cut') return 'all there';
  if (state === 'unknown') return 'what is ticked cannot be read';
  return `${bites} of ${counted(of, 'bite')} cut`;
}
