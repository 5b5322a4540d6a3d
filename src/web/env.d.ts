/// <reference types="vite/client" />
declare module '*.jsonl?url' {
  const url: string;
  export default url;
}
