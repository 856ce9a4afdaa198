/// <reference lib="dom" />
import axe from 'axe-core';
import type { Page } from 'playwright-core';

/**
 * What is wrong with how a view looks, light and dark: rules of WCAG 2.2 AA that it breaks, what is too
 * small to be hit, and what has to be pushed sideways to be seen.
 */
export async function looksWrong(page: Page): Promise<string[]> {
  await page.evaluate(axe.source);
  const told = [await smallTargets(page), await sideways(page)];
  for (const colorScheme of ['dark', 'light'] as const) {
    await page.emulateMedia({ colorScheme });
    told.push((await axeFindings(page)).map((rule) => `${colorScheme}: ${rule}`));
  }
  return told.flat();
}

const tags = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];

/** Rules that are broken, each with what breaks it. */
async function axeFindings(page: Page): Promise<string[]> {
  return page.evaluate(async (values) => {
    const { axe: inPage } = window as unknown as { axe: typeof axe };
    const { violations, passes } = await inPage.run(document, {
      runOnly: { type: 'tag', values },
    });
    if (passes.length < 5) return ['nothing was looked at'];
    return violations.flatMap(({ id, nodes }) => nodes.map(({ html }) => `${id}: ${html}`));
  }, tags);
}

/** How far the page has to be pushed sideways for all of it to be seen; none: not at all. */
function sideways(page: Page): Promise<string[]> {
  return page.evaluate(() => {
    const { scrollWidth, clientWidth } = document.documentElement;
    return scrollWidth > clientWidth ? [`${scrollWidth - clientWidth} px too wide`] : [];
  });
}

/** What is pressed or typed in and lower than 44 pixels, but for links within a sentence. */
function smallTargets(page: Page): Promise<string[]> {
  return page.evaluate(() => {
    const isInSentence = (element: Element): boolean => {
      const around = element.closest('p')?.textContent ?? '';
      return element.matches('a') && around.length > (element.textContent ?? '').length + 5;
    };
    const all = document.querySelectorAll('button, a, input, select, summary, [role="slider"]');
    return [...all].flatMap((element) => {
      if (!element.checkVisibility({ visibilityProperty: true })) return [];
      if (element.matches('.skip') || isInSentence(element)) return [];
      const label = element.matches('input[type="checkbox"], input[type="radio"]')
        ? element.closest('label')!
        : element;
      const { height, width } = label.getBoundingClientRect();
      if (height >= 43.99 || width === 0) return [];
      return [`${height.toFixed(1)} px: ${element.outerHTML.slice(0, 120)}`];
    });
  });
}
