// Starts the page's own program in a second thread. The page says in the address which files it is made of.
const files = new URL(import.meta.url).searchParams;
const file = (name) => new URL(files.get(name), import.meta.url);
const { default: start } = await import(file('js'));
await start({ module_or_path: file('wasm') });
