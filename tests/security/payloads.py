"""Texts that a careless program would obey. Numbers such as 6666 tell them from what is ours."""

from __future__ import annotations

ESC, CSI, OSC, DCS, ST = "\x1b", "\x9b", "\x9d", "\x90", "\x9c"
TERMINAL = (
    f"{ESC}[6666m", f"{ESC}[2;6666H", f"{ESC}[6666J", f"{ESC}[?6666h", f"{ESC}[6666;1r",
    f"{ESC}[6666n", f"{ESC}[>6666c", f"{ESC}[6666t", f"{ESC}[6666@", f"{ESC}[38;5;6666m",
    f"{ESC}c", f"{ESC}7", f"{ESC}#8", f"{ESC}(0", f"{ESC}=", f"{ESC}D", f"{ESC}M", f"{ESC}Z",
    f"{ESC}]0;title6666\x07", f"{ESC}]2;title6666{ESC}\\", f"{ESC}]52;c;NjY2Ng==\x07",
    f"{ESC}]52;p;?{ESC}\\", f"{ESC}]8;;http://e.example/6666{ESC}\\link{ESC}]8;;{ESC}\\",
    f"{ESC}]4;1;rgb:66/66/66\x07", f"{ESC}]10;?\x07", f"{ESC}]9;notify6666\x07",
    f"{ESC}]777;notify;a;6666\x07", f"{ESC}]1337;File=name=6666:QQ==\x07", f"{ESC}]50;#6666\x07",
    f"{ESC}P+q6666{ESC}\\", f"{ESC}P6666p{ESC}\\", f"{ESC}_6666{ESC}\\", f"{ESC}^6666{ESC}\\",
    f"{ESC}X6666{ESC}\\", f"{ESC}_Gf=100,6666;QQ=={ESC}\\",
    f"{CSI}6666m", f"{OSC}0;title6666{ST}", f"{DCS}6666p{ST}", "\x9f6666\x9c", "\x986666\x9c",
    "\x8e6666", "\x846666", "\x85next6666",
)  # fmt: skip
CONTROLS = (
    "\x00nul6666", "bell\x07", "back\x08\x08\x08\x08over", "tab\there", "\x0bvt", "\x0cff",
    "\x0eso", "\x0fsi", "\x11xon", "\x13xoff", "\x1asub", "\x7f\x7fdel", "cr\rover6666",
    "lines\nsecond6666",
)  # fmt: skip
UNSEEN = (
    "\u202egnirts6666", "\u202d6666\u202c", "\u2066isolate\u2069", "\u2067rtl\u2069",
    "\u2068first\u2069", "a\u200eb\u200f", "\u061cmark", "zero\u200bwidth", "join\u200d\u200cer",
    "\ufeffbom", "heart\u2764\ufe0f", "text\u2764\ufe0e", "soft\u00adhyphen", "word\u2060joiner",
    "line\u2028sep", "para\u2029sep", "\u034fgrapheme", "\U000e0041\U000e007ftag", "\ufff9an\ufffb",
    "\u180emvs", "\ud800half", "half\udfff", "\U000e0100vs",
)  # fmt: skip
MARKUP = (
    "[red]x[/red]", "[/path]", "[/]", "[b", "[[b]]", "\\[b]", "[@click=app.quit]out[/]",
    "[@click=app.bell()]", "[link=http://e.example]l[/link]", "[reverse]", "[on red]", "[$primary]",
    "[bold]x", "[=", "[a=b]", ":smile:", "{0}", "%s%n", "$(id)", "`id`", "<script>x</script>",
    "&lt;", "**b** _i_", "{{7*7}}", "${7*7}",
)  # fmt: skip
FORMULAS = ("=1+1", "+1", "-1+1", "@SUM(A1)", "\t=1", "\r=1", "=cmd|' /C calc'!A0")
ALL = (*TERMINAL, *CONTROLS, *UNSEEN, *MARKUP, *FORMULAS)
