/**
 * Codes inside DXF texts: `%%d` degree, `%%p` plus-minus, `%%c` diameter, `%%%` percent, `%%nnn` a
 * character by its decimal number, `%%u %%o %%k` underline, overline and strike (dropped), and
 * `\U+XXXX` a UTF-16 unit.
 */

const signs: Readonly<Record<string, string>> = { d: '°', p: '±', c: 'Ø', '%': '%' };

/** The text that a reader sees. */
export function decodeText(value: string): string {
  return decodeUnicode(value).replace(/%%(\d{3}|[a-z%])/gi, (code, key: string) => {
    if (/^\d/.test(key)) return String.fromCharCode(Number(key));
    return signs[key.toLowerCase()] ?? (/[uok]/i.test(key) ? '' : code);
  });
}

/** The text with every `\U+XXXX` replaced by its character. */
export function decodeUnicode(value: string): string {
  return value.replace(/\\U\+([0-9a-f]{4})/gi, (_, hex: string) =>
    String.fromCharCode(Number.parseInt(hex, 16)),
  );
}

/**
 * The plain text of an MTEXT. `\P` is a new line, `\~` a blank at which lines do not break, `\S1#2;` a
 * fraction. Braces and changes of font, height, colour and the like are dropped.
 */
export function plainMtext(value: string): string {
  return decodeText(value.replace(mtextCodes, plainCode));
}

/**
 * In this order: codes that end with a semicolon, fractions, codes of one letter, control characters,
 * braces.
 */
const mtextCodes = /\\[ACcFfHpQTW][^;\\{}]*;|\\S([^;]*);|\\([PNXLlOoKk~\\{}])|\^([IJM])|[{}]/g;

function plainCode(_: string, stack?: string, letter?: string, control?: string): string {
  if (stack !== undefined) return stack.replace(/[#^] */, '/');
  if (letter === 'P' || letter === 'N' || control === 'J') return '\n';
  if (letter === '~' || control === 'I') return ' ';
  return letter !== undefined && '\\{}'.includes(letter) ? letter : '';
}

/**
 * Writes a text as one line of ASCII from which decodeText makes the text again. Control characters
 * become spaces.
 */
export function encodeText(text: string): string {
  return (
    text
      .replace(/%%+/g, (run) => '%%%'.repeat(run.length))
      .replace(/\\(?=U\+)/gi, codeOf('\\'))
      // oxlint-disable-next-line no-control-regex -- they are what is looked for
      .replace(/[\u0000-\u001f\u007f]/g, ' ')
      .replace(/[^\u0020-\u007e]/g, codeOf)
  );
}

function codeOf(unit: string): string {
  return `\\U+${unit.charCodeAt(0).toString(16).toUpperCase().padStart(4, '0')}`;
}
