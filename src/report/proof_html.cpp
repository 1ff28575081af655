// The client's pages as one HTML file: pictures inside it, no script, nothing fetched.

#include "fadewright/base/strings.h"
#include "fadewright/render/png.h"
#include "fadewright/report/format.h"
#include "proof_text.h"

#include <fmt/core.h>

namespace fadewright::report {
namespace {

constexpr std::string_view kStyle = R"(
@page{margin:12mm}
body{font:16px/1.4 "DejaVu Sans",Verdana,sans-serif;color:#202020;background:#fafaf8;max-width:70em;margin:1em auto;padding:0 1em}
h1{font-size:1.7em;margin:.4em 0}h2{font-size:1.5em;border-bottom:2px solid #202020;margin:1.6em 0 .5em}
h3{font-size:1.05em;margin:1em 0 .3em}img{display:block;width:100%;height:auto}
figure{margin:0}figcaption{color:#606060;font-size:.85em;margin:.2em 0 .6em}
.row{display:flex;flex-wrap:wrap;gap:.8em}.row figure{flex:1 1 12em;max-width:24em}
.side figure{flex:1 1 18em;max-width:34em}
ul{list-style:none;padding:0;display:flex;flex-wrap:wrap;gap:.5em 1.5em}li{min-width:15em}
.chip{display:inline-block;width:2.2em;height:1.4em;border:1px solid #909090;vertical-align:-.3em;margin-right:.6em}
.note{font-weight:700}.faint{color:#606060}
.sign{border:1px solid #202020;padding:.8em;margin:1em 0}.sign p{margin:.2em 0}
.sign span{display:inline-block;border-bottom:1px solid #202020;min-width:12em;margin:1.4em 1.5em .2em .4em}
.box{display:inline-block;width:1em;height:1em;border:1px solid #202020;vertical-align:-.15em;margin:0 .4em 0 1em}
@media print{body{max-width:none;margin:0;padding:0;background:#fff;font-size:12px}section{break-after:page}
section:last-of-type{break-after:auto}h1{font-size:1.4em;margin:0}h2{margin:.2em 0 .4em}h3{margin:.7em 0 .2em}
.large img{max-height:78mm;width:auto;max-width:100%}.row img{max-height:34mm;width:auto;max-width:100%}
.sign span{margin-top:1em}figure,.sign,li{break-inside:avoid}
*{print-color-adjust:exact;-webkit-print-color-adjust:exact}}
)";

std::string figure(const ProofPicture& item, const std::string& caption, std::string_view kind = "") {
    return fmt::format(
        "<figure{}><img alt=\"{}\" src=\"data:image/png;base64,{}\"><figcaption>{}</figcaption></figure>\n",
        kind, escape_markup(item.caption), base64(render::png_bytes(item.picture, {})),
        escape_markup(caption));
}

std::string heading(const std::string& text) { return fmt::format("<h3>{}</h3>\n", text); }

std::string row(const std::vector<ProofPicture>& pictures) {
    std::string out = "<div class=\"row\">\n";
    for (const ProofPicture& item : pictures) out += figure(item, item.caption);
    return out + "</div>\n";
}

std::string colours(const ProofOption& option) {
    std::string out = fmt::format("<h3>{}</h3>\n<ul>\n", kColoursHeading);
    for (const ProofColour& colour : option.colours) {
        const std::string chip =
            colour.lab ? fmt::format(" style=\"background:{}\"", hex_colour(*colour.lab)) : "";
        out += fmt::format(
            "<li><span class=\"chip\"{}></span><b>{}</b>, {} <span class=\"faint\">{}</span></li>\n", chip,
            escape_markup(colour.mix), proof_colour_label(colour), escape_markup(colour.coats));
    }
    return out + "</ul>\n";
}

std::string signature(const Proof& proof, std::optional<std::size_t> chosen) {
    std::string out = fmt::format("<div class=\"sign\"><p>{}</p><p>", kChoiceText);
    if (proof.options.size() > 1) out += "Option chosen:";
    for (std::size_t i = 0; i < proof.options.size() && proof.options.size() > 1; ++i)
        if (!chosen || *chosen == i) out += fmt::format("<i class=\"box\"></i>{}", option_letter(i));
    return out + "</p><p>Name<span></span> Date<span></span> Signature<span></span></p></div>\n";
}

std::string caveats(const Proof& proof, bool estimated) {
    std::string out = fmt::format("<p>{}</p>\n<p class=\"note\">{}</p>\n",
                                  escape_markup(not_included_text(proof)), kApprovalText);
    if (estimated) out += fmt::format("<p>{}</p>\n", kEstimatedText);
    return out;
}

std::string front(const Proof& proof) {
    std::string out = "<section>\n<div class=\"row side\">\n";
    for (std::size_t i = 0; i < proof.options.size(); ++i)
        out += figure({proof.options[i].overview, proof.options[i].large.caption}, heading_of(proof, i));
    return out + "</div>\n" + caveats(proof, any_estimated(proof)) + signature(proof, std::nullopt) +
           "</section>\n";
}

std::string page(const Proof& proof, std::size_t index) {
    const ProofOption& option = proof.options[index];
    std::string out = fmt::format("<section>\n<h2>{}</h2>\n<p>{}</p>\n",
                                  escape_markup(heading_of(proof, index)), size_label(proof, option));
    out += figure(option.large, large_caption(option), " class=\"large\"");
    if (!option.lights.empty()) out += heading(lights_heading(option)) + row(option.lights);
    if (!option.angles.empty()) out += heading(angles_heading(option)) + row(option.angles);
    return out + colours(option) + caveats(proof, option.estimated) + signature(proof, index) +
           "</section>\n";
}

}  // namespace

std::string proof_html(const Proof& proof) {
    const std::string title = escape_markup(title_of(proof));
    std::string out = fmt::format(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
        "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>{}</title>\n"
        "<style>{}</style>\n</head>\n<body>\n<h1>{}</h1>\n",
        title, kStyle, title);
    if (proof.options.size() > 1) out += front(proof);
    for (std::size_t i = 0; i < proof.options.size(); ++i) out += page(proof, i);
    return out + "</body>\n</html>\n";
}

}  // namespace fadewright::report
