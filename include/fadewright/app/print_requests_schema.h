// The fields of the requests that print a plan, declared as those of requests_schema.h.
#pragma once

#include "fadewright/app/print_requests.h"
#include "fadewright/app/request_help.h"
#include "fadewright/text/schema.h"

namespace fadewright {

template <>
struct Names<report::Paper> {
    static constexpr std::array<std::pair<report::Paper, std::string_view>, 2> list{
        {{report::Paper::A4, "A4"}, {report::Paper::Letter, "Letter"}}};
};

template <>
struct Schema<app::SheetRequest> {
    using T = app::SheetRequest;
    static constexpr std::string_view name = "sheet";
    static constexpr std::string_view about =
        "calculates how much of everything to mix, weigh and spray, and makes the booth sheet";
    static constexpr auto fields = Fields{
        Field{"plan", &T::plan, required, app::kPlanHelp},
        Field{"out", &T::out, optional,
              "file to write: booth sheet .pdf or .html, table .csv, everything .json; may be repeated"},
        Field{"labels", &T::labels, optional, "cup labels (PDF)"},
        Field{"paper", &T::paper, optional, "paper to print on"},
        Field{"library", &T::library, optional, app::kLibraryHelp},
        Field{"units", &T::units, optional, app::kUnitsHelp},
        Field{"json", &T::json, optional, app::kJsonHelp}};
    static constexpr std::array<std::string_view, 1> positional{"plan"};
    static constexpr std::array<std::string_view, 3> examples{
        "fadewright sheet my-job.toml", "fadewright sheet my-job.toml -o booth.pdf --labels cups.pdf",
        "fadewright sheet my-job.toml -o booth.html -o recipe.csv --paper Letter"};
};

template <>
struct Schema<app::ProofRequest> {
    using T = app::ProofRequest;
    static constexpr std::string_view name = "proof";
    static constexpr std::string_view about = "makes the pages for the client; every plan is one option";
    static constexpr auto fields = Fields{
        Field{"plans", &T::plans, required, "plan files, one per option: A, B, C ..."},
        Field{"out", &T::out, required,
              "file to write: pages .pdf or .html, or one .png per option (NAME-a.png ...); may be repeated"},
        Field{"lights", &T::lights, optional,
              "light to show it in beside the plan's; may be repeated; default: day, incandescent, "
              "fluorescent"},
        Field{"not_included", &T::not_included, optional,
              "what the price does not include; may be repeated; default: bodywork, other parts, wear "
              "and tear"},
        Field{"no_watermark", &T::no_watermark, optional, "no watermark across the pictures"},
        Field{"paper", &T::paper, optional, "paper to print on"},
        Field{"threads", &T::threads, optional, range(0, 256),
              "threads to use; 0 for all (the result is the same)"},
        Field{"library", &T::library, optional, app::kLibraryHelp},
        Field{"units", &T::units, optional, app::kUnitsHelp},
        Field{"json", &T::json, optional, app::kJsonHelp}};
    static constexpr std::array<std::string_view, 1> positional{"plans"};
    static constexpr std::array<std::string_view, 2> examples{
        "fadewright proof my-job.toml -o proof.pdf -o proof.html",
        "fadewright proof dusk.toml dawn.toml -o proof.pdf --lights day --lights incandescent"};
};

template <>
struct Schema<app::TemplateRequest> {
    using T = app::TemplateRequest;
    static constexpr std::string_view name = "template";
    static constexpr std::string_view about = "prints full-size outlines, over as many pages as they need";
    static constexpr auto fields = Fields{
        Field{"plan", &T::plan, required, app::kPlanHelp},
        Field{"out", &T::out, required, "the template to write (PDF)"},
        Field{"mask", &T::mask, optional, "only this mask; default: the panel with its masks and regions"},
        Field{"mirror", &T::mirror, optional, "mirrored left to right; lettering stays readable"},
        Field{"paper", &T::paper, optional, "paper to print on"},
        Field{"library", &T::library, optional, app::kLibraryHelp},
        Field{"units", &T::units, optional, app::kUnitsHelp},
        Field{"json", &T::json, optional, app::kJsonHelp}};
    static constexpr std::array<std::string_view, 1> positional{"plan"};
    static constexpr std::array<std::string_view, 2> examples{
        "fadewright template my-job.toml -o outline.pdf",
        "fadewright template my-job.toml -o stencil.pdf --mask star --mirror"};
};

}  // namespace fadewright
