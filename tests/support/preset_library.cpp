#include "preset_library.h"

#include "fadewright/planner/resolve.h"
#include "published_table.h"

#include <filesystem>
#include <fstream>
#include <list>
#include <sstream>
#include <stdexcept>

namespace fadewright::test {
namespace {

std::string text_of_file(const std::filesystem::path& path) {
    std::ifstream in(path, std::ios::binary);
    if (!in) throw std::runtime_error("cannot read " + path.string());
    std::stringstream text;
    text << in.rdbuf();
    return text.str();
}

}  // namespace

std::uint64_t seed_of(const std::string& name) {
    std::uint64_t seed = 1;
    for (const char c : name) seed = seed * 131 + static_cast<unsigned char>(c);
    return seed;
}

plan::Library preset_library() {
    namespace fs = std::filesystem;
    const fs::path root = source_path("presets");
    std::list<std::string> owned;  // the views below point into it until the library has copied them
    std::vector<EmbeddedFile> files;
    for (const fs::directory_entry& entry : fs::recursive_directory_iterator(root)) {
        if (entry.path().extension() != ".toml" && entry.path().extension() != ".svg") continue;
        const std::string& path = owned.emplace_back(entry.path().lexically_relative(root).generic_string());
        const std::string& text = owned.emplace_back(text_of_file(entry.path()));
        files.push_back({path, text});
    }
    return plan::Library::open(files, "").value();
}

plan::Job job_of(const std::string& plan_text) {
    plan::Library library = preset_library();
    planner::ResolvedPlan resolved =
        planner::resolve(std::make_shared<Source>("test.toml", plan_text), library);
    if (!resolved.job) throw std::runtime_error("the plan is invalid:\n" + to_text(resolved.diagnostics));
    return std::move(*resolved.job);
}

plan::Job job_of_file(const std::string& below) { return job_of(text_of_file(source_path(below))); }

}  // namespace fadewright::test
