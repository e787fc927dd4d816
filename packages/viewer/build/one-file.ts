import type { Plugin } from 'vite';

/** Puts the bundle's script and styles and the icon into index.html, and leaves nothing else: a page to open by double click. */
export function oneFile(fileName: string, icon: string): Plugin {
  return {
    name: 'one-file',
    enforce: 'post',
    // After everything else: other plugins still write into the chunks.
    generateBundle: {
      order: 'post',
      handler(_, bundle) {
        const page = bundle['index.html'];
        if (page?.type !== 'asset') throw new Error('There is no page to put the rest into.');
        let html = String(page.source);
        let script = '';
        let styles = '';
        for (const [name, part] of Object.entries(bundle)) {
          if (part.type === 'chunk') script += part.code;
          else if (name.endsWith('.css')) styles += part.source;
          else if (part !== page) throw new Error(`${name} is left outside of the page in one file.`);
          delete bundle[name];
        }
        html = html
          .replace(/<script\b[^>]*src=[^>]*><\/script>/g, '')
          .replace(/<link\b[^>]*rel="(stylesheet|modulepreload)"[^>]*>/g, '')
          .replace(/href="[^"]*icon\.svg"/, () => `href="data:image/svg+xml,${encodeURIComponent(icon)}"`)
          .replace('</head>', () => `<style>${styles.replaceAll('</style', '<\\/style')}</style></head>`)
          .replace('</body>', () => `<script type="module">${insidePage(script)}</script></body>`);
        this.emitFile({ type: 'asset', fileName, source: html });
      },
    },
  };
}

/** The only character runs that would end or change the element a script stands in. */
const insidePage = (script: string): string => script.replaceAll('</script', '<\\/script').replaceAll('<!--', '<\\!--');
