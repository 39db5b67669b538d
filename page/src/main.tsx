import { render } from "preact";
import "./font.css";

const root = document.getElementById("page");
if (root) render(<main data-state="waiting" />, root);
