/** The picture of a roll: aimed at in mm of the roll, and its lay looked at with geometry of the test's own. */
import type { Locator, Page } from 'playwright-core';
import polygonClipping from 'polygon-clipping';
import type { LayTable } from '../../../src/web/api/lay.ts';
import { asked, soon } from './browser.ts';

export interface Spot {
  readonly x: number;
  readonly y: number;
}

type Lays = Pick<LayTable, 'parts' | 'lays'>;
type Ring = [number, number][];

export function pictureCalled(page: Page, label: string): Locator {
  return page.getByRole('application', { name: label });
}

/** Where on the page a spot of the roll is seen, found out by pointing at two and reading what the page says. */
export async function aiming(page: Page, label: string): Promise<(spot: Spot) => Spot> {
  await oneBand(page);
  const box = (await pictureCalled(page, label).boundingBox())!;
  const at = (share: number): Spot => ({
    x: box.x + share * box.width,
    y: box.y + share * box.height,
  });
  const [a, b] = [at(0.25), at(0.75)];
  const [onA, onB] = [await readAt(page, label, a), await readAt(page, label, b)];
  const along = (b.x - a.x) / (onB.x - onA.x);
  const across = (b.y - a.y) / (onB.y - onA.y);
  return ({ x, y }) => ({ x: a.x + (x - onA.x) * along, y: a.y + (y - onA.y) * across });
}

/** Has the roll shown as one band, where it is shown in rows. */
export async function oneBand(page: Page): Promise<void> {
  const rows = page.getByRole('button', { name: 'Rows', pressed: true });
  if (!(await rows.isVisible())) return;
  await rows.click();
  await page.getByRole('button', { name: 'Rows', pressed: false }).waitFor();
}

async function readAt(page: Page, label: string, { x, y }: Spot): Promise<Spot> {
  const picture = page.locator('section.roll', { has: pictureCalled(page, label) });
  await page.mouse.move(x, y);
  let read: RegExpExecArray | null = null;
  await soon(async () => {
    const words = await picture.locator('output').textContent();
    read = /(-?\d+) mm along, (-?\d+) mm across/.exec(words ?? '');
    return read;
  }).not.toBeNull();
  return { x: Number(read![1]), y: Number(read![2]) };
}

/** Presses at one spot of the page, moves to the other and lets go there; in between it is looked at. */
export async function dragged(
  page: Page,
  from: Spot,
  to: Spot,
  look: () => Promise<void> = async () => {},
): Promise<void> {
  await page.mouse.move(from.x, from.y);
  await page.mouse.down();
  await page.mouse.move((from.x + to.x) / 2, (from.y + to.y) / 2);
  await page.mouse.move(to.x, to.y);
  await look();
  await page.mouse.up();
}

/** The lays of a run file. */
export function laysOfRun(page: Page, run: string): Promise<Lays> {
  return asked<Lays>(page, `/api/run/${run}/table`);
}

/** The middle of a part where it lies: of its contour's points, which the small parts here have in them. */
export function middleOf(lays: Lays, label: string): Spot {
  const corners = contourOf(lays, label);
  const sum = (axis: 0 | 1): number => corners.reduce((all, corner) => all + corner[axis], 0);
  return { x: sum(0) / corners.length, y: sum(1) / corners.length };
}

/** The contour to cut where it lies on its roll, mm. */
function contourOf({ parts, lays }: Lays, label: string): Ring {
  const { ring } = parts.find((part) => part.label === label)!;
  const place = lays.flatMap(({ placements }) => placements).find((one) => one.label === label)!;
  const turn = (place.rotation / 180) * Math.PI;
  const corners: Ring = [];
  for (let i = 0; i < ring.length; i += 2) {
    const [x, y] = [ring[i]!, ring[i + 1]!];
    corners.push([
      place.x + x * Math.cos(turn) - y * Math.sin(turn),
      place.y + x * Math.sin(turn) + y * Math.cos(turn),
    ]);
  }
  return corners;
}

/** The parts of a material that lie over a polygon. */
export function partsOver(lays: Lays, material: string, polygon: Ring): string[] {
  const laid = lays.lays.filter((lay) => lay.material === material);
  return laid
    .flatMap(({ placements }) => placements.map(({ label }) => label))
    .filter(
      (label) => polygonClipping.intersection([contourOf(lays, label)], [polygon]).length > 0,
    );
}

/** A rectangle as a polygon. */
export function rectangle(minX: number, minY: number, maxX: number, maxY: number): Ring {
  return [
    [minX, minY],
    [maxX, minY],
    [maxX, maxY],
    [minX, maxY],
  ];
}
