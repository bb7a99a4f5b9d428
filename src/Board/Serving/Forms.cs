using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.Routing;
using Vanehour.Board.Desk;
using Vanehour.Board.Reading;

namespace Vanehour.Board.Serving;

/// <summary>
/// Takes what people send with forms. Each ends in a redirect to the page it came from, so that going back or reloading sends nothing twice; what was refused
/// comes back with what had been typed. The framework checks the anti-forgery token of each: it does so for every endpoint that binds a form.
/// </summary>
internal static class Forms
{
    /// <summary>The longest text of a field, characters.</summary>
    private const int Longest = 500;

    public static void Map(IEndpointRouteBuilder routes)
    {
        Deed(routes, "record", analyse: true, f => new DeskDeed.Record(
            f("truck") ?? "", f("kind") ?? "", f("meter"), f("date"), f("value"), f("unit"), f("pump_serial"), f("pump_model"), f("note")));
        Deed(routes, "delete-record", analyse: true, f => new DeskDeed.DeleteRecord(f("id") ?? "", f("why")));
        Deed(routes, "acknowledge", analyse: false, f => new DeskDeed.Acknowledge(f("id") ?? "", f("note")));
        Deed(routes, "close", analyse: false, f => new DeskDeed.Close(f("id") ?? "", f("cause") ?? "", f("note")));
        Deed(routes, "pin", analyse: false, f => new DeskDeed.Pin(f("truck") ?? "", f("week") ?? "", f("note")));
        Deed(routes, "unpin", analyse: false, f => new DeskDeed.Unpin(f("truck") ?? ""));
        Deed(routes, "block", analyse: false, f => new DeskDeed.Block(f("from") ?? "", f("to"), f("yard"), f("truck"), f("note")));
        Deed(routes, "unblock", analyse: false, f => new DeskDeed.Unblock(f("id") ?? ""));
        Deed(routes, "round", analyse: false, f => new DeskDeed.Round(f("truck") ?? "", f("what") ?? "", f("meter"), f("note")));
        routes.MapPost("/do/analyse", (HttpContext context, [FromForm] IFormCollection form, BoardFleet fleet, IDataProtectionProvider protection) =>
        {
            fleet.Desk.AskForAnalysis();
            return End(context, form, protection, new Flash("analyse", true, ["A new analysis was asked for; this page shows it when it is done."], new Dictionary<string, string>()));
        });
        Training(routes, "answer", (desk, f, by) => desk.Answer(f("truck") ?? "", f("cause") ?? "", f("action") ?? "", f("note"), by));
        Training(routes, "reveal", (desk, f, by) => f("sure") is null ? new DeskAnswer(false, ["Tick the box first: after that nobody can answer any more."]) : desk.Reveal(by));
    }

    private static void Deed(IEndpointRouteBuilder routes, string name, bool analyse, Func<Func<string, string?>, DeskDeed> deedOf) =>
        routes.MapPost("/do/" + name, async (
            HttpContext context, [FromForm] IFormCollection form, BoardFleet fleet, FleetReader reader, Visit visit, IDataProtectionProvider protection) =>
        {
            var answer = await Signed(visit, form, by => fleet.Desk.DoAsync(deedOf(Fields(form)), by, context.RequestAborted));
            reader.Forget();
            if (answer.Done && analyse && reader.Now().AsOf is not null)
            {
                fleet.Desk.AskForAnalysis();
                answer = answer with { Sentences = [.. answer.Sentences, "A new analysis was asked for; forecasts and plan follow it when it is done."] };
            }

            return End(context, form, protection, ToFlash(name, form, answer));
        });

    private static void Training(IEndpointRouteBuilder routes, string name, Func<ITrainingDesk, Func<string, string?>, string, DeskAnswer> work) =>
        routes.MapPost("/do/" + name, async (HttpContext context, [FromForm] IFormCollection form, BoardFleet fleet, Visit visit, IDataProtectionProvider protection) =>
        {
            if (fleet.Training is not { } desk)
            {
                return Results.NotFound();
            }

            var answer = await Signed(visit, form, by => Task.FromResult(work(desk, Fields(form), by)));
            return End(context, form, protection, ToFlash(name, form, answer));
        });

    private static async Task<DeskAnswer> Signed(Visit visit, IFormCollection form, Func<string, Task<DeskAnswer>> work) =>
        !visit.MayEdit ? new DeskAnswer(false, ["You may look, but not change anything."])
        : form.FirstOrDefault(f => f.Value.ToString().Length > Longest) is { Key: not null } field ? new DeskAnswer(false, [$"The field {field.Key} holds more than {Longest} characters; shorten it."])
        : (visit.Name ?? Text(form, "by")) is { } by ? await work(by)
        : new DeskAnswer(false, ["Say who you are: changes are signed."]);

    private static Flash ToFlash(string name, IFormCollection form, DeskAnswer answer)
    {
        // Several forms of a kind may stand on one page; the one that was refused is told by what it is about.
        var id = form["form"].ToString() is { Length: > 0 and < 100 } given ? given : name;
        return new Flash(id, answer.Done, answer.Sentences, answer.Done ? new Dictionary<string, string>() : form
            .Where(f => f.Key is not ("form" or "back") && !f.Key.StartsWith("__", StringComparison.Ordinal))
            .ToDictionary(f => f.Key, f => f.Value.ToString()));
    }

    private static IResult End(HttpContext context, IFormCollection form, IDataProtectionProvider protection, Flash flash)
    {
        flash.Leave(context, protection);
        if (Text(form, "by") is { } by)
        {
            // The next form starts with the name that was typed into this one.
            context.Response.Cookies.Append(ByCookie, by, new CookieOptions { HttpOnly = true, SameSite = SameSiteMode.Strict, Secure = context.Request.IsHttps, MaxAge = TimeSpan.FromDays(30), Path = "/" });
        }

        context.Response.StatusCode = StatusCodes.Status303SeeOther;
        context.Response.Headers.Location = Guard.Local(form["back"]) + "#said";
        return Results.Empty;
    }

    /// <summary>The cookie that keeps the name people sign with where nobody signs in.</summary>
    public const string ByCookie = "vanehour-by";

    private static Func<string, string?> Fields(IFormCollection form) => name => Text(form, name);

    private static string? Text(IFormCollection form, string name) => form[name].ToString().Trim() is { Length: > 0 } text ? text : null;
}
