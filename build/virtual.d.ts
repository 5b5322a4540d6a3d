/** Made by `catalog-plugin.ts`: the catalog's YAML files as text. */
declare module 'virtual:catalog-files' {
  const files: readonly { readonly name: string; readonly text: string }[];
  export default files;
}
